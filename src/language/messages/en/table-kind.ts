/** What the rows of a table of breaks stand for. */
export const tableKind = {
  positions: 'Each row is taken for the breaks of one position.',
  events: 'Each row is taken for one break.',
  totals: 'Each row is taken for the breaks of a shift, a day or a frame.',
} as const;

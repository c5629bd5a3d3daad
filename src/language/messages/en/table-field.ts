/** Numbers known beside a table of breaks. */
export const tableField = {
  norm: 'Usual breaks per 1000 rotor-hours (the norm)',
  hours: 'Hours that every position ran',
  positions: 'Positions on a frame',
  running: 'Share of the time that the frames ran',
} as const;

export const who = {
  operator: 'Bedienung',
  fitter: 'Mechaniker',
  technologist: 'Technologe',
  laboratory: 'Labor',
} as const;

/** Who does something. */
export const who = {
  operator: 'operator',
  fitter: 'fitter',
  technologist: 'technologist',
  laboratory: 'laboratory',
} as const;

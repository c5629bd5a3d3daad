/** Example tables of breaks. */
export const countSample = {
  positions: 'One day of frame 3, breaks by position',
  log: 'Two weeks of frame 7, break by break',
  shifts: 'Four weeks, breaks by shift',
} as const;

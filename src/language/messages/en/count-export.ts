/** Tables of an analysis to take away. */
export const countExport = {
  positions: 'Positions',
  sections: 'Runs of neighbours',
  frames: 'Frames',
  periods: 'Course in time',
  day: 'Hours of the day or shifts',
  reasons: 'Reasons',
  figures: 'All figures',
} as const;

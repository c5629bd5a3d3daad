/** Times in words. */
export const unit = {
  days: '{n} days',
  'of-set-twist': '% of set twist',
  points: 'points',
  rh: '% RH',
  fibres: 'fibres',
  layers: 'layers',
} as const;

export const unit = {
  days: '{n} Tage',
  'of-set-twist': '% der eingestellten Drehung',
  points: 'Spitzen',
  rh: '% r. F.',
  fibres: 'Fasern',
  layers: 'Lagen',
} as const;

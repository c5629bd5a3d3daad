export const countFinding = {
  'groove-period': 'eine Spitze bei der Rillenlänge',
  'drafting-wave': 'ein breiter Buckel bei mittleren Wellen',
  'metre-waves': 'Spitzen bei einigen Metern',
} as const;

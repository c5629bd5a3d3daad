/** States of a case. */
export const caseState = {
  open: 'Open',
  checking: 'Being looked into',
  acting: 'Action taken',
  'on-trial': 'On trial',
  tried: 'Trial finished',
  closed: 'Closed',
} as const;

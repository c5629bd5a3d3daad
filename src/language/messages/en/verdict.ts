/** How a trial went. */
export const verdict = {
  better: 'better',
  'no-change': 'no change',
  worse: 'worse',
  undecided: 'not decided',
} as const;

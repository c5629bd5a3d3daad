export const verdict = {
  better: 'besser',
  'no-change': 'keine Änderung',
  worse: 'schlechter',
  undecided: 'nicht entschieden',
} as const;

/** Worked examples of the knowledge base. */
export const worked = {
  expected: 'Expected',
  today: 'Today',
  leading: 'Leading causes',
  cause: 'Cause',
  probability: 'Probability',
  'as-expected': 'As expected',
  'not-expected': 'Not as expected',
  open: 'Open it on the bench',
} as const;

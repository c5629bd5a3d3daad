/** What a statement rests on. */
export const standing = {
  physics: 'physics',
  published: 'published',
  'common-practice': 'common practice',
  judgement: 'judgement',
  memory: 'from memory, unchecked',
} as const;

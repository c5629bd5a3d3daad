/** Words used all over. */
export const words = {
  and: 'and',
  or: 'or',
  nor: 'nor',
} as const;

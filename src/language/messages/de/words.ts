export const words = {
  and: 'und',
  or: 'oder',
  nor: 'noch',
} as const;

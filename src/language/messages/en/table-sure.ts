/** How sure a column was told. */
export const tableSure = {
  sure: 'sure',
  likely: 'likely',
  guess: 'a guess: please look',
} as const;

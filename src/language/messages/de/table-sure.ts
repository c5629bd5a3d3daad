export const tableSure = {
  sure: 'sicher',
  likely: 'wahrscheinlich',
  guess: 'geraten: bitte nachsehen',
} as const;

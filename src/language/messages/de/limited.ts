export const limited = {
  hairiness: 'Haarigkeit',
  softness: 'Weichheit',
  fly: 'Flug',
  tenacity: 'Festigkeit',
  output: 'Produktion',
} as const;

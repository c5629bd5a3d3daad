export const quality = {
  output: 'Produktion',
  tension: 'Abzugsspannung, Anteil der Festigkeit',
  tenacity: 'Festigkeit',
  hairiness: 'Haarigkeit',
  hand: 'Weichheit des Griffs',
  fly: 'Flug',
} as const;

export const effect = {
  stability: 'Laufverhalten',
  tension: 'Spannung',
  tenacity: 'Festigkeit',
  hairiness: 'Haarigkeit',
  fly: 'Flug',
  hand: 'Griff',
  output: 'Produktion',
  wear: 'Verschleiß',
  waste: 'Abfall',
  evenness: 'Gleichmäßigkeit',
  package: 'Spule',
} as const;

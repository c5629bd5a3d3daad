export const endUse = {
  knitting: 'Strickgarn',
  weft: 'Schuss',
  warp: 'Kette',
  'denim-warp': 'Denim-Kette',
  'denim-weft': 'Denim-Schuss',
  towel: 'Frottier',
  'waste-yarn': 'Abfallgarn',
} as const;

/** End uses by their ids, within a line. */
export const endUse = {
  knitting: 'knitting',
  weft: 'weft',
  warp: 'warp',
  'denim-warp': 'denim warp',
  'denim-weft': 'denim weft',
  towel: 'towel',
  'waste-yarn': 'waste yarn',
} as const;

/** Stations of the fibre’s way beside the drawing. */
export const drawingStation = {
  sliver: 'sliver',
  feed: 'feed',
  'opening-roller': 'opening roller',
  'trash-slot': 'trash slot',
  'fibre-channel': 'channel',
  position: 'rotor to tube',
  'take-off-rollers': 'take-off',
  winding: 'winding',
  fabric: 'fabric',
} as const;

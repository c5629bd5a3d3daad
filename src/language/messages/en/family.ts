/** Families of causes. */
export const family = {
  nozzle: 'Draw-off nozzle',
  'tube-and-insert': 'Draw-off tube and insert',
  'twist-and-speed': 'Twist, speed and take-off',
  rotor: 'Rotor and groove',
  opening: 'Opening roller',
  'air-and-trash': 'Air, seal and trash removal',
  'feed-and-sliver': 'Feed and sliver handling',
  'sliver-quality': 'Sliver quality',
  fibre: 'Fibre and blend',
  winding: 'Winding and waxing',
  'room-and-care': 'Room, cleaning and service',
  downstream: 'Beyond the frame',
  chance: 'No real fault',
} as const;

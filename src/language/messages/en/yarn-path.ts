/** The picture of the way of the fibre through a position. */
export const yarnPath = {
  sliver: 'Sliver',
  feed: 'Feed',
  'opening-roller': 'Opening roller',
  channel: 'Channel and air',
  rotor: 'Rotor and groove',
  nozzle: 'Draw-off nozzle',
  tube: 'Tube and insert',
  'take-off': 'Twist and take-off',
  winding: 'Winding',
  downstream: 'Next machine',
  room: 'It acts from the room on the whole way of the fibre',
  way: 'The way of the fibre through a position',
  where: 'Where on the way of the fibre: {station}',
} as const;

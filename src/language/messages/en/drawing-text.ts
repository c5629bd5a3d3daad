/** The drawing in words. */
export const drawingText = {
  'no-insert': 'There is no insert',
  level: 'level with the groove plane',
  insert: 'An insert ({insert}) lies on the inner side of the bend',
  protrusion: '{size} mm {side, select, beyond {beyond} other {short of}} the groove plane',
  rotor: 'A spinning position drawn to scale. The rotor is {size} mm across and turns at {speed} rpm.',
  groove:
    'Fibres lie in its groove; over {length} mm ahead of the peel point twist runs into them, {room, select, more {more than} other {less than}} the {needed} mm they need.',
  arm: 'The yarn arm runs {length} mm from the groove to the nozzle ({texture}, entry radius {radius} mm), whose face stands {protrusion}, and lies on it over {angle}°.',
  tube: 'The draw-off tube bends by {angle}°. {insert}.',
  twist:
    'Twist: {arm} turns a metre in the arm ({more} % more than set), {before} between nozzle and bend, {set} after the bend.',
  dashed: 'Dashed lines show the position before the change: {moved}.',
  was: '{measure} was {value}',
  mark: 'Mark {n}, {place}: {mark}.',
} as const;

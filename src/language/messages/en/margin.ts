/** Margins of a setup and what they mean. */
export const margin = {
  twist: 'Twist margin',
  'twist-meaning':
    'Length over which the end is tied into the fibre ring, over the length it needs, less one.',
  tension: 'Tension margin',
  'tension-meaning':
    'Share of the yarn strength that the draw-off tension may take, over the share it takes, less one.',
  fibres: 'Fibres in the section',
  'fibres-meaning': 'Fibres in the yarn section over the least that spin stably, less one.',
  heat: 'Heat margin',
  'heat-meaning': 'Friction power the nozzle may give up with this fibre, over what it does, less one.',
  hairiness: 'Hairiness',
  'hairiness-meaning': 'Hairiness the end use allows, over the computed index, less one.',
  softness: 'Softness',
  'softness-meaning': 'Computed softness over the least the end use allows, less one.',
  fly: 'Fly',
  'fly-meaning': 'Fly the end use allows, over the computed index, less one.',
  'rotor-size': 'Rotor size',
  'rotor-size-meaning': 'Rotor diameter over the least for this staple, less one.',
} as const;

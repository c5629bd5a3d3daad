export const margin = {
  twist: 'Drehungsreserve',
  'twist-meaning':
    'Länge, über die das Garnende in den Faserring eingebunden wird, durch die nötige Länge, minus eins.',
  tension: 'Spannungsreserve',
  'tension-meaning':
    'Anteil der Garnfestigkeit, den die Abzugsspannung nehmen darf, durch den Anteil, den sie nimmt, minus eins.',
  fibres: 'Fasern im Querschnitt',
  'fibres-meaning': 'Fasern im Garnquerschnitt durch die Mindestzahl für stabiles Spinnen, minus eins.',
  heat: 'Wärmereserve',
  'heat-meaning':
    'Reibleistung, die die Düse mit dieser Faser abgeben darf, durch die tatsächliche, minus eins.',
  hairiness: 'Haarigkeit',
  'hairiness-meaning': 'Haarigkeit, die der Einsatzzweck zulässt, durch den errechneten Index, minus eins.',
  softness: 'Weichheit',
  'softness-meaning': 'Errechnete Weichheit durch das Mindeste, das der Einsatzzweck zulässt, minus eins.',
  fly: 'Flug',
  'fly-meaning': 'Flug, den der Einsatzzweck zulässt, durch den errechneten Index, minus eins.',
  'rotor-size': 'Rotorgröße',
  'rotor-size-meaning': 'Rotordurchmesser durch den Mindestwert für diesen Stapel, minus eins.',
} as const;

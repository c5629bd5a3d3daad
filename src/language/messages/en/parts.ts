/** Parts due for replacement. */
export const parts = {
  'life-tubes': 'Life of tubes',
  'life-rotors': 'Life of rotors',
  'listed-from': 'Listed from',
  error: 'Error: parts',
  title: 'Parts',
  lead: 'Nozzles are held against the life that the model gives them on what the frame spins; tubes and rotors against what you state.',
  'list-them': 'List them',
  'of-life': '% of the life',
  'empty-not': 'Empty: not listed.',
  due: 'Due for replacement',
  part: 'Part',
  'has-run': 'Has run, h',
  life: 'Life, h',
  used: 'Used',
  left: 'Left',
  'nothing-yet': 'Nothing has come that far.',
  'note-life':
    'The life of a nozzle is judgement: it depends on fibre, delustrant, material and friction power, and the model’s figure is the middle of a wide range. Look at the nozzles before a whole set is renewed.',
  'note-hours':
    'Hours follow from what was put in and when, and from the running hours reported since. A position whose fitting was never recorded is not listed.',
  'and-more': '{runs} and more ({n} in all)',
  overdue: 'overdue',
  stands: 'the frame stands',
  'under-day': 'less than a day',
  'about-days': 'about {n} days',
  heading: 'Parts due for replacement',
} as const;

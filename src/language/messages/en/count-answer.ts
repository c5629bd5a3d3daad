/** What a table of breaks says, in sentences without a word of statistics. */
export const countAnswer = {
  'no-breaks': 'There is not a single break in the table: nothing to judge.',
  better: 'Real: it got better.',
  real: 'Real, not chance.',
  'if-nothing':
    'If nothing had {better, select, yes {changed} other {been the matter}}, counts would look like this {times}.',
  'perhaps-real': 'Perhaps real.',
  'something-stands':
    'Something stands out, but with everything that was looked at, as much stands out {times} by chance alone.',
  'below-norm': 'Nothing is wrong: fewer breaks than the norm, and nothing stands out.',
  'chance-only':
    'Nothing beyond chance is seen: breaks are rare events, and counts of rare events scatter as these do.',
  level:
    '{breaks} in {hours} rotor-hours: {rate} per 1000; the true figure may lie anywhere from {low} to {high}.',
  counted: '{breaks} were counted.',
  'norm-above': 'That is above the norm of {norm}: {times}.',
  'norm-below': 'That is below the norm of {norm}.',
  'norm-alike': 'That is not shown to differ from the norm of {norm}.',
  perhaps: 'Perhaps: {text}',
  section:
    'Positions {first} to {last}{named, select, yes { of frame {frame}} other {}} break together, {times} ({count} where {expected} would be their share). They share something.',
  positions:
    '{many, select, yes {Positions {list}} other {Position {list}}}{named, select, yes { of frame {frame}} other {}} {many, select, yes {break} other {breaks}} more than the others.',
  position: '{id} ({breaks} where the others make {expected})',
  innocent: 'Of ten positions named like this, about one is innocent.',
  frame: 'Frame {frame} breaks {times}.',
  'a-time': 'Not so much a place as a time: {when} ends break {times}.',
  nowhere: 'Nowhere.',
  'no-positions':
    'Where on the frame can only be told from a table that names at least four of its positions.',
  'some-spread':
    'The positions differ from one another somewhat more than chance, but none stands out from that, nor does a run of neighbours.',
  'none-stands':
    'No position and no run of neighbours stands out: the breaks are spread as chance spreads them.{shared, select, yes { So it is something that all positions share.} other {}}',
  'nothing-begun': 'Nothing has begun.',
  'too-few':
    'The table has too few dates or breaks to tell since when. Count a week or more, with the day and shift of every count.',
  'no-beginning':
    'No beginning is seen: from {from} to {to} the breaks neither rose nor fell more than chance lets them.',
  'alarm-rare': 'it rings for nothing less than once in 1000 {units}',
  'alarm-every': 'it rings for nothing about every {n} {units}',
  'alarm-silent': 'A running alarm against the norm, set for a rise by half, would not have rung ({every}).',
  'alarm-rung':
    'A running alarm against the norm, set for a rise by half, would first have rung {day, select, yes {on} other {at}} {when} ({every}).',
  'from-to': 'from {before} to {after} per 1000 rotor-hours',
  'to-times': 'to {n} times what it was',
  spell:
    '{perhaps, select, yes {perhaps } other {}}a spell: {one, select, yes {on {from}} other {from {from} to {to}}} the breaks{who, select, named { of the positions named} all { of all positions} other {}} were {times}.',
  sudden:
    '{perhaps, select, yes {perhaps } other {}}since about {when}{sure, select, yes {} other { (it may have been anywhere from {from} to {to})}}: the rate{who, select, named { of the positions named} all { of all positions} other {}} rose at once, {rates}.',
  creeping:
    '{perhaps, select, yes {perhaps } other {}}bit by bit: the rate{who, select, named { of the positions named} all { of all positions} other {}} has been rising from {from} to {to}, with no single moment at which it began.',
  fell: '{perhaps, select, yes {perhaps } other {}}better since about {when}: the rate{who, select, named { of the positions named} all { of all positions} other {}} fell, {rates}.',
  ongoing: 'As long as the table goes back: it was above the norm from the start and did not change.',
  safety:
    'Open a position only when its rotor stands still: rotors run on after the stop and parts are hot. The machine’s manual and trained staff come first.',
  'go-on': 'Go on counting; look whether breaks were recorded at all.',
  'look-shared':
    'Look at what these neighbours share: drive and belt, suction duct, the cans and the way to them, the stretch that one cleaner or piecer serves.',
  'ask-changed': 'Ask what was changed on those days: lot, parts, settings, cleaning round, climate, people.',
  'think-wear':
    'Think of what wears or fills up: nozzles, inserts, grooves, ducts, filters, opening roller teeth.',
  passed: 'It has passed. Ask what was special in that spell, and keep counting before anything is changed.',
  'compare-hours':
    'Compare those hours with the others: room climate, cleaning times, who runs the frame, can changes.',
  'whole-frame':
    'Look at what the whole frame shares: settings, lot, climate, suction, cleaning. Compare with frames that run the same lot.',
  'count-again': 'Count the same again before parts are changed: what is real comes again at the same place.',
  'change-nothing': 'Change nothing because of these counts; go on counting.',
  worst:
    'The worst position, {id}{named, select, yes { of frame {frame}} other {}} with {breaks}, is as bad as the worst of {among} is by chance: left alone it would make about {next} in the same time again.',
  'hours-in-all': '{n} rotor-hours in all',
  'hours-each': '{n} hours of every position',
  'times-now': 'about {n} times as long as now',
  'aim-frame': 'that everything breaks half as often again as usual',
  'aim-position': 'a single position that breaks {n} times as often as the others',
  enough: 'Enough has been counted to notice {aim}.',
  'to-notice':
    'To notice {aim}, count {amount}{known, select, yes {, {n} times as much as so far} other {}}.',
  'give-norm':
    'Whether everything is bad alike shows only against the usual rate: give the norm, or count a sister frame.',
  aside:
    'When there is time, count {one, select, yes {the position} other {the positions}} named again before anything is done there.',
  'to-diagnosis':
    'Take the result to the diagnosis: it turns place, beginning and counts into likely causes.',
  visit:
    'Go to {one, select, yes {this position} other {these positions, the first named first,}} and look before anything is cleaned; then exchange one part at a time with a good neighbour and see whether the trouble goes along.',
  picked:
    'Position {id} was picked because it was bad, and part of its count is bad luck: left alone it would make about {next} in the same time again rather than {count}. Judge a repair by that, or count afresh before it.',
} as const;

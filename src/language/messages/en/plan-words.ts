/** Sentences of plans: what a plan brings and costs, its steps, why it stands first, what was left out. */
export const planWords = {
  'no-change': 'no change',
  range: '{value} ({low} to {high})',
  'hardly-told': 'It can hardly be told from “{plan}”.',
  against: 'Beside “{plan}” it is better in {better}{some, select, yes {, and worse in {worse}} other {}}.',
  'chance-of': 'the chance of a stable run ({value}, there {other})',
  'effort-of': 'effort with its trial ({value}, there {other})',
  'quality-of': '{quality} ({value}, there {other})',
  'qualities-stay': 'the qualities of the yarn stay',
  'no-work': 'nothing to be changed on the frame',
  work: '{time} of work on {positions, plural, one {# position} other {# positions}}',
  brings:
    'Chance of a stable run {before} → {after}; {quality}; {work}{some, select, yes {; parts: {parts}} other {}}.',
  stay: 'Leave the setup as it is',
  'no-combination': 'No combination of the changes offered keeps within the limits.',
  'usual-best': 'The usual setup is the best that was found: its chance of a stable run is {chance} %.',
  'none-worth':
    'Within the limits no combination of settings is worth its cost: leave them as they are (chance of a stable run {chance} %) and look for a fault in parts, sliver or room.',
  'may-not-stay': 'The setup may not stay as it is: {why} {then}',
  recommended: 'Recommended: {plan}. {what}',
  tried:
    '{tried} combinations were tried, all that the options allow; {allowed} keep within every limit. {full} of them could be among the best and were computed over all {draws} draws of what is not known exactly, the others by their single changes.',
  'seen-weighs':
    'What was seen on the frame weighs in: draws in which the margin it speaks of is short count for more.',
  'setup-alone': 'The chances come from the setup alone; what was seen on the frame has not been weighed in.',
  'only-ranks':
    'The model ranks setups; its absolute figures rest on judgement. Prove every step on the frame.',
  'not-in-stock': 'Such a nozzle is not in stock.',
  'delivers-less': '{limit}: it delivers less.',
  hairier: '{limit}: the yarn gets hairier.',
  harsher: '{limit}: the yarn gets harsher.',
  'complained-of': '{quality} is complained of and would get worse.',
  'top-speed':
    'Above some {speed} rpm, about the top speed of this rotor diameter (from memory; the rating on the rotor counts).',
  'no-speed-up': 'A frame that breaks is not speeded up before it runs (common practice).',
  'needs-part': 'It needs a new part.',
  'stays-in': 'It stays in the frame for the yarns that follow.',
  'not-stocked': 'Not in stock.',
  'no-washers': 'No washers in stock.',
  'must-list': 'must be a list',
  'list-of-parts': 'a list of at most {n} parts, [] for none',
  'must-number': 'must be a number, with or without a unit',
  'not-possible': 'is not possible here',
  'range-unit': '{low} to {high} {unit}',
} as const;

/** Steps of a plan. */
export const planStep = {
  'twist-suffices': 'that the twist suffices: {before} → {after}',
  'tension-borne': 'that the yarn bears its tension: {before} → {after}',
  'heat-below': 'that the fibre stays below sticking: {before} → {after}',
  chance: 'Chance {moves}.',
  'fit-nozzle': 'Fit another nozzle: {nozzle}',
  'put-washers': 'Put washers under the nozzle: protrusion {to}',
  'take-washers': 'Take washers from under the nozzle: protrusion {to}',
  'fit-tube': 'Fit a tube with a bend of {to}',
  'insert-out': 'Take the insert out',
  'fit-insert': 'Fit an insert: {insert}',
  'set-twist': 'Set the twist to {to}',
  'set-speed': 'Set the rotor speed to {to}',
  'note-twist': 'Write down twist, rotor speed and delivery in force.',
  'twist-steps':
    'Go to {to} in steps of about 2 %, the rotor speed unchanged; let the frame settle for ten minutes after each.',
  'note-speed':
    'Write down twist, rotor speed and delivery in force; check the speed the rotors are rated for.',
  'speed-steps':
    'Go to {to} in steps of about 3 % and let delivery follow, so that the twist stays {twist} t/m.',
  'set-nozzle':
    'set the nozzle to {to} before the groove plane by washers, and turn the rotor by hand to see that it is free',
  'inserts-out': 'take the inserts out and count them',
  'fit-part': 'fit the new part, check seat and depth, keep the old ones in order',
  'stop-few':
    'Stop {n, plural, one {the position} other {# positions spread over the frame}}, wait until the rotors stand still and the parts are cool; {what}. {time} of work.',
  'stop-one': 'Stop the position, wait until the rotors stand still and the parts are cool; {what}.',
  'stop-all':
    'Stop the {n, plural, one {position} other {# positions}}, wait until the rotors stand still and the parts are cool; {what}.',
  'run-shift': 'Run a shift with nothing else changed and the trial packages kept apart.',
  'do-all':
    'If what was measured agrees, do the same on {n, plural, one {the position} other {all # positions}}: {time} of work.',
  tension: 'Draw-off tension {before} → {after} cN/tex ({change})',
  quality: '{quality} {change}',
  'nothing-moves': 'Nothing that can be measured moves by more than one half percent',
  nozzle: 'nozzle, {nozzle}',
  'nozzle-parts': '{texture}, {material}, radius {radius} mm',
  insert: 'insert, {insert}',
  tube: 'draw-off tube, bend {bend}°',
  washers: 'washers for the nozzle (protrusion {to})',
  'part-count': '{n} × {part}',
  'no-insert': 'none',
  'smooth-insert': 'smooth',
  grooves: '{n, plural, one {# groove} other {# grooves}}',
} as const;

/** Materials of a nozzle. */
export const nozzleMaterial = {
  ceramic: 'ceramic',
  steel: 'steel',
  'ceramic-head': 'ceramic head in a metal body',
} as const;

/** What a plan is judged by. */
export const objective = {
  chance: 'Chance of a stable run',
  hairiness: 'Hairiness',
  hand: 'Softness of hand',
  fly: 'Fly',
  tenacity: 'Tenacity',
  output: 'Output',
  'nozzle-life': 'Life of the nozzle',
  effort: 'Effort',
} as const;

/** Limits of a plan. */
export const planLimit = {
  'dont-lose-output': 'Don’t lose output',
  'hairiness-no-worse': 'Hairiness no worse',
  'hand-no-worse': 'Hand no harsher',
  'no-new-parts': 'No new parts today',
  'this-yarn-only': 'This yarn only',
} as const;

/** What exactly each limit forbids. */
export const planLimitMeaning = {
  'dont-lose-output': 'No plan whose rotors deliver less in a running hour than now.',
  'hairiness-no-worse': 'No plan whose yarn is expected to be hairier than now.',
  'hand-no-worse': 'No plan whose yarn is expected to feel harsher than now.',
  'no-new-parts':
    'Only what is set or taken out: twist, rotor speed, washers under the nozzle, removing the insert. Nozzles, tubes and other inserts stay.',
  'this-yarn-only':
    'Only what is set anew with every lot: twist and rotor speed. Nozzle, washers, tube and insert stay in the frame for the yarns that follow.',
} as const;

/** Why a change moves what it moves. */
export const planWhy = {
  'texture-up':
    'A rougher face grips the yarn more, turns the arm further and sends more turns to the groove.',
  'texture-down': 'A milder face plucks the yarn less: less hair and fly, at fewer turns in the arm.',
  'nozzle-radius-up':
    'On a larger radius the yarn sweeps a longer way under a lighter load and is turned further; it runs warmer.',
  'nozzle-radius-down':
    'On a smaller radius the yarn sweeps a shorter way: less friction heat and wear, a little less false twist.',
  'nozzle-material-ceramic': 'Ceramic wears slowest.',
  'nozzle-material-steel': 'Steel leads the heat away best, and wears soonest.',
  'nozzle-material-ceramic-head':
    'A metal body behind the ceramic face leads the heat away at nearly the same life.',
  'nozzle-protrusion-up':
    'Standing further out, the nozzle is wrapped further: more turns in the arm, more pull.',
  'nozzle-protrusion-down':
    'Standing further back, the nozzle is wrapped less: less pull, heat and wear, fewer turns in the arm.',
  'tube-bend-up': 'A sharper bend holds more twist back in the arm and adds pull.',
  'tube-bend-down': 'A gentler bend takes pull off the yarn; it holds less twist back.',
  'insert-up':
    'The insert holds twist back in the arm, so that more turns reach the groove at the same set twist.',
  'insert-down': 'A milder insert plucks and sheds less; it holds less twist back.',
  'twist-up': 'More set twist is more turns everywhere, at lower delivery and a firmer hand.',
  'twist-down': 'Less set twist delivers more and feels softer, with fewer turns in reserve.',
  'rotor-speed-up': 'More speed delivers more; the pull grows with its square, heat with its cube.',
  'rotor-speed-down': 'Less speed takes off pull with its square and heat with its cube, and delivers less.',
} as const;

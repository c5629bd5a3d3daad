/** Sentences on setups side by side, and on a quantity followed along a setting. */
export const sideBySide = {
  'no-differ': 'The setups do not differ.',
  'all-orders':
    'Parts are means over all orders of swapping the differing settings; they add up to the difference.',
  'each-alone': '{n} settings differ: each is swapped by itself, and what they do together is left over.',
  same: '{quantity} is the same in “{name}” and “{first}”.',
  points: '{n} points',
  differs:
    '{quantity} is {amount} {higher, select, yes {higher} other {lower}} in “{name}”{driven, select, yes {, by the {drivers}} other {}}{sure, select, yes {} other {, though the doubt spans both directions}}.',
  'set-up-as': '“{name}” is set up as “{first}”.',
  'nothing-matters': '“{name}” differs in {settings}, but nothing that matters moves by two percent.',
  goes: '{quantity} goes from {from} to {to} as the {setting} goes from {start} to {end}{turning, select, yes {, {turns}} other {}}; at present {now} ({low} to {high}) at {at}.',
  'curve-title': '{quantity} against {setting}',
  now: 'now',
  greatest: 'greatest ({value}) at {at}',
  least: 'least ({value}) at {at}',
} as const;

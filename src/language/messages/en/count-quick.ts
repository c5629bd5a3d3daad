/** Answers to questions of counts and trials that need no file. */
export const countQuick = {
  rate: '{rate} breaks per 1000 rotor-hours; with so many counted, the true figure may lie anywhere from {low} to {high}.',
  'norm-luck': 'if the norm still held, a count so far from it would turn up {times}',
  above: 'Real: {times}; {luck}.',
  below: 'Better than the norm: {breaks} where it expects {expected}; {luck}.',
  alike: 'Not shown to differ from the norm: {breaks} where it expects {expected}; {luck}.',
  'enough-half': 'Enough has been counted to notice a rise by half.',
  'to-half': 'To notice a rise by half, count {hours} rotor-hours in all, {n} times as much as so far.',
  'no-difference-luck': 'if there were no difference, counts so far apart would turn up {times}',
  neither: 'Neither has a break yet: nothing can be said.',
  'no-difference': 'No difference is shown; {luck}.',
  'real-breaks': 'Real: {id} breaks {times}; {luck}.',
  against:
    '{second} against {first}: the true ratio may lie anywhere from {low} to {high}{open, select, yes {} other { times}}.',
  'see-range':
    'That no difference is shown does not mean that there is none: see how wide the range is, and count on if it is too wide.',
  'one-stands': 'Real: {id} breaks {times}.',
  'none-stands': 'None stands out from the others: they differ no more than chance lets them.',
  run: 'Run {hours} rotor-hours with the change and as many without, side by side.',
  'run-positions':
    'On {n} changed positions and {n} beside them that is {hours} running hours, {days} days day and night.',
  expect:
    'About {without} breaks without and {with} with the change are to be expected; a {rise, select, yes {rise} other {fall}} from {from} to {to} is then noticed in {of} of 100 such trials.',
  half: 'With half of these hours only a {rise, select, yes {rise} other {fall}} to {to} would be noticed as surely.',
  'half-nothing': 'Half of these hours would not show even the end of all breaks as surely.',
  'not-in-turn':
    'Do not run a week before and a week after: lot, climate and people change as well. Count running hours only, and write down stops and lots.',
  'no-controls':
    'Without positions beside that were left alone, a new lot or other weather counts as an effect of the change.',
  'the-controls': 'the controls',
  'the-norm': 'the norm',
  'no-outlook': 'how much longer it takes cannot be said yet',
  'no-outlook-sentence': 'How much longer it takes cannot be said yet.',
  outlook: 'about {hours} more rotor-hours (both sides together) would decide it if things stay as they are',
  'outlook-sentence':
    'About {hours} more rotor-hours (both sides together) would decide it if things stay as they are.',
  'trial-better': 'Better: the changed positions break less than {against}.',
  'trial-worse': 'Worse: the changed positions break more than {against}. Take the change back.',
  'trial-no-worse':
    'No worse: a rise worth speaking of is ruled out; that it is better is not shown. {outlook}',
  'trial-no-effect': 'No effect worth having: a fall to {ratio} times or lower is ruled out.',
  'trial-unknown': 'Not yet known: {outlook}.',
  'true-ratio':
    'The true ratio, changed to {against}, lies between {low} and {high}, however often one looks.',
  'small-better': 'Better, but by less than would be worthwhile.',
  'fewer-after': 'Fewer breaks after than before: {times}. Whether the change did it cannot be told.',
  'more-after': 'More breaks after than before: {times}. Whether the change did it cannot be told.',
  'alike-after': 'No difference between before and after is shown. Whether the change did it cannot be told.',
  'not-same-time':
    'Before and after did not run at the same time: lot, weather, cleaning and people may have changed as well. Run changed and unchanged positions side by side.',
  'picked-bad':
    'The positions were picked because they were bad: part of that was bad luck, and they would have improved without any change. Compare with equally bad positions left alone.',
  layout:
    "{pairs} pairs of neighbours in {sections} sections. After a quarter of the hours exchange the parts within each pair, after three quarters exchange them back. A position is opened only when its rotor stands still, by qualified staff and by the machine's manual; count only running hours.",
} as const;

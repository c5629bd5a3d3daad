/** What the counts of a trial say. */
export const trial = {
  rate: '{rate} per 1000 rotor-hours',
  counts:
    'Without the change {a} breaks in {aHours} rotor-hours ({aRate}); with it {b} in {bHours} ({bRate}).',
  range: 'The true rate with the change is between {low} and {high} % of that without (95 %).',
  drop: 'The drop is more than chance.',
  worse: 'It got worse, and more than by chance.',
  chance: 'The difference may be chance; more hours would tell.',
} as const;

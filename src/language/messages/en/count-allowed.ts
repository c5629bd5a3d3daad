/** What is allowed for a number of the statistics. */
export const countAllowed = {
  'whole-0': 'a whole number, 0 or more',
  'above-0': 'a number above 0',
  'from-number': 'a number, {low} or more',
  range: '{low} to {high}',
  fraction: 'a fraction between 0 and 1',
  'whole-from': 'a whole number, {low} or more',
  'whole-range': 'a whole number, {low} to {high}',
  members: 'a list of {n} or more',
  'ratio-not-1': 'a ratio other than 1',
  'pairs-most': 'at most {n} on {positions} positions with {excluded} left out',
  'share-of-block': '{share} % of the hours on the changed side',
  'share-of-others': 'about {share} %, as in the other blocks',
} as const;

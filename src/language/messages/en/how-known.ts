/** How a root cause is known. */
export const howKnown = {
  'by-trial': 'proved by a trial',
  'by-part': 'proved by exchanging the part',
  'by-look': 'seen when looking',
  unconfirmed: 'suspected, not proved',
} as const;

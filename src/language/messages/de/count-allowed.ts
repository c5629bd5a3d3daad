export const countAllowed = {
  'whole-0': 'eine ganze Zahl ab 0',
  'above-0': 'eine Zahl über 0',
  'from-number': 'eine Zahl ab {low}',
  range: '{low} bis {high}',
  fraction: 'ein Bruchteil zwischen 0 und 1',
  'whole-from': 'eine ganze Zahl ab {low}',
  'whole-range': 'eine ganze Zahl, {low} bis {high}',
  members: 'eine Liste von mindestens {n}',
  'ratio-not-1': 'ein anderes Verhältnis als 1',
  'pairs-most': 'höchstens {n} auf {positions} Spinnstellen, von denen {excluded} ausgelassen sind',
  'share-of-block': '{share} % der Stunden auf der geänderten Seite',
  'share-of-others': 'etwa {share} %, wie in den anderen Blöcken',
} as const;

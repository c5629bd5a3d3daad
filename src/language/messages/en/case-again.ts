/** A diagnosis kept with a case, and the same case on today’s rules. */
export const caseAgain = {
  heading: 'The same case on today’s rules',
  'same-knowledge': 'The knowledge is the same as then.',
  'changed-knowledge': 'The knowledge has changed: then {before}, now {today}.',
  'more-findings':
    '{n, plural, one {# finding recorded since then is} other {# findings recorded since then are}} weighed as well.',
  'left-out': 'Today’s rules no longer know these parts of the case, which are left out: {parts}.',
  'root-cause': 'The root cause, {cause}, stood in place {before} then and stands in place {today} now.',
  compared: 'Chances then and now',
  cause: 'Cause',
  'chance-then': 'Then',
  'chance-now': 'Now',
  'place-then': 'Place then',
  'place-now': 'Place now',
  'the-root-cause': 'the root cause',
  none: 'No cause comes above 2 %.',
  keep: 'Keep this diagnosis with the case',
  'diagnosis-of': 'Diagnosis {number} of case {case}',
  diagnosis: 'Diagnosis {number}',
  'as-said': 'As it was said on {when}, kept by {who}; knowledge {version}.',
  chance: 'Chance',
  'no-ranking': 'None.',
} as const;

export const caseAgain = {
  heading: 'Derselbe Fall nach heutigen Regeln',
  'same-knowledge': 'Der Wissensstand ist derselbe wie damals.',
  'changed-knowledge': 'Der Wissensstand hat sich geändert: damals {before}, heute {today}.',
  'more-findings':
    '{n, plural, one {# seither festgehaltener Befund wird} other {# seither festgehaltene Befunde werden}} mit gewogen.',
  'left-out': 'Die heutigen Regeln kennen diese Teile des Falls nicht mehr; sie sind weggelassen: {parts}.',
  'root-cause':
    'Die Grundursache, {cause}, stand damals an Stelle {before} und steht heute an Stelle {today}.',
  compared: 'Wahrscheinlichkeiten damals und heute',
  cause: 'Ursache',
  'chance-then': 'Damals',
  'chance-now': 'Heute',
  'place-then': 'Stelle damals',
  'place-now': 'Stelle heute',
  'the-root-cause': 'die Grundursache',
  none: 'Keine Ursache kommt über 2 %.',
  keep: 'Diese Diagnose zum Fall ablegen',
  'diagnosis-of': 'Diagnose {number} zu Fall {case}',
  diagnosis: 'Diagnose {number}',
  'as-said': 'Wie sie am {when} lautete, abgelegt von {who}; Wissensstand {version}.',
  chance: 'Wahrscheinlichkeit',
  'no-ranking': 'Keine.',
} as const;

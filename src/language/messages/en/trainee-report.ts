/** What a trainee’s attempts say of how he or she works. */
export const traineeReport = {
  'none-closed': 'No case has been closed yet.',
  cases: '{n, plural, one {# case} other {# cases}}',
  safe: 'Every step was safe: stopped, waited for standstill, one change at a time.',
  right: 'The first cause put forward was right every time.',
  'near-best': 'The minutes are close to those of the best way.',
  'no-idle': 'No check was asked for that could not have changed anything.',
  summary:
    '{cases} closed, {passed} passed. The first cause put forward was right in {right} of {of}. Checks and search took {minutes} in all; the best way would have taken {best}{slow, select, yes {, so about {times} times as long} other {}}.',
  'nothing-recurs': 'Nothing that recurs. Take harder cases: level 3, level 5.',
  'safety-first': 'Safety first: in {cases} a step was not safe or not sound. {first}',
  'mixed-up': 'You took “{truth}” for “{taken}”{n, plural, one {} other { # times}}.',
  'what-tells': '{mixedUp} What tells them apart: {telling}',
  telling:
    '“{check}”: “{answer}” comes with “{cause}” in {with} of such frames, with the other in {without}.',
  dearest:
    'Before each check ask: which answer would make me do something else, and is it worth the minutes? The dearest choice was “{asked}” where “{better}” promised {more} more{several, select, yes {; in {cases} a better check was open} other {}}.',
  idle: 'Leave out checks that cannot change your mind: {checks} cost {time} in all.',
  'too-early': 'You closed {cases} too early; “{check}” was still worth its minutes.',
  'put-forward': 'Put causes forward before you close: in {cases} none was, and the search was handed over.',
  'less-sure':
    'Say how sure you are by what was found, not by how well the story fits: on average you gave your first cause {said}, and the findings allowed {warranted}.',
  'trust-more':
    'Trust your findings more: on average you gave your first cause {said}, and the findings allowed {warranted}.',
} as const;

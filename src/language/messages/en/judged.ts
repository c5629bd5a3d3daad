/** What is said of a practice case when it is marked: checks, causes, actions, advice. */
export const judged = {
  minutes: '{n} min',
  'under-1': 'under 1 %',
  quoted: '“{text}”',
  'no-cause': 'No cause was put forward.',
  'first-right': '“{cause}”, your first cause, was at work.',
  'first-wrong': '“{cause}”, your first cause, was not at work.',
  time: '{checks} of checks and {search} of search along your list; the best way from the same beginning took {bestChecks} and {bestSearch}.',
  'better-list': 'With the same findings, a better list would have needed {time} of search.',
  'no-unsafe': 'No unsafe step.',
  unsafe: '{n, plural, one {One step was} other {# steps were}} not safe or not sound.',
  'ask-first': 'Instead of “{check}” ask first for “{better}”. {why}',
  'leave-out':
    'Leave out what cannot change your mind: {checks} cost {time}. Ask before each check: which answer would make me do something else?',
  needless: 'Stop asking when no answer is worth its minutes: {checks}.',
  'needless-check': '“{check}” took {minutes} for an expected {promised}',
  'too-early': 'You closed too early: “{check}” was still worth it. {why}',
  surest:
    'Say how sure you are by what was found, not by how well the story fits: you gave “{cause}” {said} %, and the findings allowed {allowed} %.',
  'under-one': 'under 1',
  'better-action': '“{action}” had the better chance of a cure ({chance} %) when you tried {tried}.',
  'put-forward': 'Put causes forward before you act, with how sure you are of each.',
  'nothing-else': 'Nothing to do differently: every check was worth its minutes.',
  'at-once':
    '{actions} were done at once. Change one thing at a time: two changes made together prove nothing about either.',
  'whole-frame':
    'The whole frame was changed before the change was proved. Try it on a few positions spread over the frame first.',
  opens: '“{action}” opens positions: stop, wait until the rotor stands still, then open.',
  'not-for': '“{action}” is not for this yarn: {why}',
  'cost-limit': '{cost}. {limit}',
  'no-sign': 'There was no sign to go away.',
  'all-gone': 'All signs went away.',
  'nothing-changed': 'Nothing changed: the change is taken back.',
  'some-gone':
    '{gone} of {all} signs went away{some, select, yes {, {eased} eased} other {}}; {one, select, yes {{left} stays} other {{left} stay}}.',
  'check-part': '{check} ({part})',
  'no-standstill':
    '“{check}” was made without saying that the rotor stood still. Stop the position, wait for standstill, then open.',
  price: 'It takes {minutes} and was expected to save {saves} of search.',
  'price-leads': 'It takes {minutes} and was expected to save {saves} of search: {leads}.',
  lead: '“{answer}” would have put “{cause}” first with {chance} %',
  saved: 'The answer saved {time} of search.',
  'opened-again': 'The answer opened the field again by {time}: that is worth knowing too.',
  'told-nothing': 'The answer told next to nothing.',
  again: 'This had been looked at before; the answer is the same.',
  best: 'The best check at that moment: expected to save {promised} for {minutes}. {result}',
  'none-worth': 'At that moment no check was worth its minutes: go to the causes, or hand over.',
  luck: 'At that moment it was expected to save next to nothing. That the answer saved {time} all the same was luck, not plan.',
  'known-before': 'That it would save next to nothing could be known beforehand. {result}',
  'too-dear': 'It promised {promised} of search for {minutes}: more than it could save. {result}',
  dear: 'It promised {promised} of search for {minutes}; another check promised clearly more. {result}',
  good: 'A sound check: it promised {promised} of search for {minutes}. {result}',
  'starts-anew': 'No cause was put forward, so the search starts anew with somebody else.',
  right: '“{cause}” was at work. {judged}',
  wrong: '“{cause}” was not at work. {judged}',
  'over-right':
    'You gave {said}; what was found warranted {warranted}. It came out well this time, but you were surer than the findings allowed.',
  'over-wrong':
    'You gave {said}; what was found warranted {warranted}. You were surer than the findings allowed.',
  'trust-more': 'You gave {said}; what was found warranted {warranted}. You may trust your findings more.',
  'about-right': 'You gave {said}, about what the findings warranted ({warranted}).',
  'missed-known':
    '“{cause}” was at work and is missing from your list, although the findings gave it {warranted}.',
  'missed-hidden':
    '“{cause}” was at work. With these findings nobody could have put it high ({warranted}); another check would have been needed.',
} as const;

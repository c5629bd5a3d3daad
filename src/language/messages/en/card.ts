/** The setup card. */
export const card = {
  settings: 'The settings',
  caption: 'The settings, why they are so, how exactly they are kept and what to watch',
  setting: 'Setting',
  why: 'Why',
  keep: 'Keep to',
  watch: 'Watch',
  usual: 'usual',
  was: 'was {value}',
  print: 'Print this page with the browser: the card fits one sheet, A4 landscape.',
  foot: 'Set by ______________ on ______________. Tolerances and reasons are judgement; the manual of the machine comes first. Knowledge {version}.',
  heading: 'Setup card',
  'as-is': 'The card of the setup as it is',
  'of-plan': 'The card of the recommended plan',
  assumed:
    '{n, plural, one {# value was not given and is what is usual} other {# values were not given and are what is usual}} (marked “usual”): look at the frame before the card hangs there.',
  title: 'Setup card: {title}',
} as const;

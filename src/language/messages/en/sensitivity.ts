/** Which numbers an answer hangs on. */
export const sensitivity = {
  back: 'Back to the answer',
  'base-rate-of': 'base rate of “{cause}”',
  'rule-for': 'rule “{rule}” for “{cause}”',
  'rule-against': 'rule “{rule}” against “{cause}”',
  link: 'link “{from}” → “{to}”',
  'as-table': 'The same as a table',
  number: 'Number',
  'if-were': 'If it were',
  'then-points': 'Then (points)',
  hint: 'Each number is moved alone, by one step: a base rate halved or doubled, a strength or weight to the next name on its scale. What would have to be wrong for the answer to be wrong is what deserves a second look.',
  picture:
    'Where its probability goes when one number is a step lower or higher. The upright line is today’s.',
  tick: 'Tick at least one sign first; then this page tells which numbers of the knowledge the answer hangs on.',
  'moves-most': '“{cause}”: what moves it most',
  now: 'now {value}',
  'leads-then': 'Then “{cause}” leads.',
  'in-case': '“{cause}” in this case',
  heading: 'Which numbers this hangs on',
  lead: '“{cause}” leads. {overturning}',
  'none-overturns': 'No single number of the knowledge, moved by one step, would put another cause first.',
  overturning:
    '{n, plural, one {One step of one number} other {# steps of single numbers}} would put another cause first.',
  leader: '{number} from {from} to {to}: then “{cause}” leads.',
  'stands-still': '“{cause}” stands at {now}. No single step moves it by half a percentage point or more.',
  'hangs-most':
    '“{cause}” stands at {now}. It hangs most on the {number}: with {to} instead of {from} it would stand at {after}.',
  'how-far': 'How far single numbers move “{cause}”',
  'not-tried':
    '{n} further steps were not tried, since the case is dear to compute; the most promising were.',
  'tornado-about':
    'One bar a number of the knowledge base: how far the probability goes when the number is one step lower or higher. The upright line is the probability now. The table gives the same.',
} as const;

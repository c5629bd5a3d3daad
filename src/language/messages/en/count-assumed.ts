/** What was taken for granted about a table of breaks. */
export const countAssumed = {
  'same-unknown': 'All positions ran the same hours, which are not known: rates cannot be shown.',
  'same-stated': 'Every position ran {hours} hours, as stated.',
  'log-years': '{n} years',
  'log-allowed': 'a log over at most 20 years; look for a mistyped date',
  'log-numbered':
    'The log names no positions without a break: taken for positions 1 to {last} on each frame. State the number of positions if it is another.',
  'log-named':
    'The log names no positions without a break: only those with one are compared. State the number of positions per frame.',
  'log-ran':
    'The frames ran{part, select, yes { {share} % of the time} other {}} from the first to the last break of the log ({hours} hours){part, select, yes {} other {, without stops}}.',
  standstill: 'Long stretches without any break on a frame ({hours} frame-hours) were taken for standstill.',
  'no-positions':
    'The number of positions per frame is not stated: rates are shown only against one another.',
  'periods-unknown': 'All periods ran the same hours, which are not known: rates cannot be shown.',
  unlisted: 'unlisted {n}',
} as const;

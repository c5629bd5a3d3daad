/** What is wrong with what was typed into a form. */
export const form = {
  'was-no-time': '{label}: “{text}” was no time in the mill; the clocks were put forward over it.',
  'not-a-time': '{label}: “{text}” is not a time.',
  'time-around': 'a time before or after the change',
  'time-example': 'a day and a time such as 2026-11-24 08:30',
} as const;

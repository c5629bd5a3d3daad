/** What a column of a table of breaks holds. */
export const columnRole = {
  time: 'date and time',
  date: 'date',
  clock: 'time of day',
  shift: 'shift',
  frame: 'frame',
  side: 'side of the frame',
  position: 'position',
  count: 'number of breaks',
  'rotor-hours': 'rotor-hours',
  'run-hours': 'hours run',
  reason: 'reason',
} as const;

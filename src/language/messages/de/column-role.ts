export const columnRole = {
  time: 'Datum und Zeit',
  date: 'Datum',
  clock: 'Uhrzeit',
  shift: 'Schicht',
  frame: 'Maschine',
  side: 'Maschinenseite',
  position: 'Spinnstelle',
  count: 'Zahl der Fadenbrüche',
  'rotor-hours': 'Rotorstunden',
  'run-hours': 'Laufstunden',
  reason: 'Grund',
} as const;

export const countSample = {
  positions: 'Ein Tag der Maschine 3, Fadenbrüche je Spinnstelle',
  log: 'Zwei Wochen der Maschine 7, Fadenbruch für Fadenbruch',
  shifts: 'Vier Wochen, Fadenbrüche je Schicht',
} as const;

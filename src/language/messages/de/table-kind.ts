export const tableKind = {
  positions: 'Jede Zeile gilt als die Fadenbrüche einer Spinnstelle.',
  events: 'Jede Zeile gilt als ein Fadenbruch.',
  totals: 'Jede Zeile gilt als die Fadenbrüche einer Schicht, eines Tages oder einer Maschine.',
} as const;

export const tableField = {
  norm: 'Übliche Fadenbrüche je 1000 Rotorstunden (die Norm)',
  hours: 'Stunden, die jede Spinnstelle lief',
  positions: 'Spinnstellen an einer Maschine',
  running: 'Anteil der Zeit, in der die Maschinen liefen',
} as const;

export const countExport = {
  positions: 'Spinnstellen',
  sections: 'Reihen von Nachbarn',
  frames: 'Maschinen',
  periods: 'Verlauf in der Zeit',
  day: 'Tagesstunden oder Schichten',
  reasons: 'Gründe',
  figures: 'Alle Zahlen',
} as const;

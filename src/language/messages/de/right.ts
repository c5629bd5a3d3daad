export const right = {
  read: 'dies anzusehen',
  cases: 'Fälle zu eröffnen und Schritte festzuhalten',
  corrections: 'Schritte zu berichtigen oder Fälle wieder zu öffnen',
  setups: 'Einstellungen festzuhalten',
  'machine-data': 'Maschinendaten anzunehmen',
  complaints: 'Reklamationen aufzunehmen und ihre Schritte festzuhalten',
  mill: 'Maschinen, Garne und Partien zu ändern',
  knowledge: 'über Raten und Regeln zu entscheiden',
  courses: 'Kurse und Übungsfälle anzulegen',
  accounts: 'Konten und Token zu betreuen',
  audit: 'das Prüfprotokoll anzusehen',
  settings: 'Grundeinstellungen zu ändern',
} as const;

export const tokenRight = {
  read: 'Alles lesen außer Konten und Prüfprotokoll; Diagnosen stellen',
  'machine-data': 'Fadenbrüche und Laufstunden senden',
  cases: 'Fälle eröffnen und Schritte festhalten',
  corrections: 'Schritte berichtigen und Fälle wieder öffnen',
  setups: 'Einstellungen festhalten',
  complaints: 'Reklamationen aufnehmen und ihre Schritte festhalten',
  mill: 'Maschinen, Garne und Partien anlegen und ändern',
  knowledge: 'Über Raten und Regeln entscheiden',
  courses: 'Kurse und Übungsfälle anlegen',
} as const;

export const shell = {
  skip: 'Zum Inhalt springen',
  'signed-in': 'Angemeldet als',
  main: 'Hauptmenü',
  bench: 'Diagnose',
  setup: 'Einstellung',
  journal: 'Journal',
  knowledge: 'Wissen',
  training: 'Schulung',
  counts: 'Brüche',
  convert: 'Umrechnen',
  files: 'Dateien',
  first:
    'Betriebsanleitung der Maschine, Regeln des Betriebs und Fachpersonal gehen vor. Wo eine Zahl auf Schätzung beruht, steht es dabei.',
  version: 'Wissensstand',
  since: 'in Gebrauch seit {when}.',
  newer: 'Neuere Dateien können nicht verwendet werden: siehe oben.',
  language: 'Sprache',
  unreviewed:
    'Die deutsche Fassung hat noch kein Spinner mit deutscher Muttersprache geprüft. Im Zweifel gilt der englische Text.',
} as const;

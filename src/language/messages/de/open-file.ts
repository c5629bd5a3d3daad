export const openFile = {
  'not-yet': 'Diese Falldatei lässt sich noch nicht öffnen',
  written: 'geschrieben:',
  heading: 'Eine Falldatei öffnen',
  lead: 'Eine Falldatei hält Einstellung, Anzeichen und Befunde als Text fest (YAML oder JSON). Die Diagnose speichert sie unter „Als Falldatei speichern“; die Befehlszeile liest dieselbe.',
  file: 'Datei',
  'or-text': 'Oder ihr Text',
  put: 'In die Diagnose übernehmen',
  line: 'Zeile {n}',
} as const;

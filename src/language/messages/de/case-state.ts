export const caseState = {
  open: 'Offen',
  checking: 'In Prüfung',
  acting: 'Maßnahme getroffen',
  'on-trial': 'Im Versuch',
  tried: 'Versuch abgeschlossen',
  closed: 'Abgeschlossen',
} as const;

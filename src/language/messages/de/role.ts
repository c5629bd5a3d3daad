export const role = {
  viewer: 'Betrachter',
  supervisor: 'Meister',
  quality: 'Qualität',
  trainer: 'Ausbilder',
  technologist: 'Technologe',
  administrator: 'Administrator',
} as const;

export const roleAbout = {
  viewer: 'sieht alles außer Konten und Prüfprotokoll, stellt Diagnosen und übt',
  supervisor:
    'ein Betrachter, der Fälle eröffnet und ihre Schritte, Einstellungen und Maschinendaten festhält',
  quality: 'ein Meister, der auch Reklamationen führt, Schritte berichtigt und Fälle wieder öffnet',
  trainer: 'ein Betrachter, der Kurse und Übungsfälle anlegt',
  technologist:
    'ein Betrachter, der Maschinen, Garne, Partien und Einstellungen pflegt und über Raten und Regeln entscheidet',
  administrator:
    'ein Betrachter, der Konten, Token und Grundeinstellungen betreut und das Prüfprotokoll liest',
} as const;

export const scope = {
  position: 'eine Spinnstelle',
  section: 'mehrere Nachbarstellen',
  frame: 'die ganze Maschine',
  can: 'wandert mit den Kannen einer Ablieferung',
  lot: 'alle Maschinen mit dieser Partie',
  mill: 'alle Maschinen und Partien',
  shift: 'nur manche Schichten oder Stunden',
} as const;

export const onset = {
  sudden: 'plötzlich',
  creeping: 'schleichend über Wochen',
  'saw-tooth': 'baut sich auf und verschwindet wieder',
  'time-of-day': 'nach Tageszeit',
  'since-change': 'seit einer Änderung',
  ongoing: 'war schon immer so',
  once: 'einmal, nicht wieder',
} as const;

export const change = {
  'nozzle-surface': 'Oberfläche der Abzugsdüse',
  'nozzle-radius': 'Düsenradius',
  'nozzle-material': 'Düsenwerkstoff',
  'nozzle-renewed': 'neue Düsen gleicher Art',
  protrusion: 'Düsenüberstand',
  tube: 'Abzugsröhrchen',
  insert: 'Drallstau-Einsatz',
  twist: 'Garndrehung',
  'rotor-speed': 'Rotordrehzahl',
  rotor: 'Rotor',
  count: 'Garnfeinheit',
  lot: 'Partie',
  fibre: 'Faser oder Mischung',
  'opening-roller': 'Auflösewalze',
  winding: 'Aufwindung',
  piecer: 'Anspinn-Einstellung',
  'cleaning-round': 'Reinigungsrundgang',
  overhaul: 'Überholung',
  climate: 'Raumklima',
  none: 'nichts',
} as const;

export const level = { absent: 'nicht gesehen', slight: 'leicht', marked: 'deutlich' } as const;

export const part = {
  nozzle: 'Abzugsdüse',
  insert: 'Drallstau-Einsatz',
  tube: 'Abzugsröhrchen',
  rotor: 'Rotor',
  'opening-roller': 'Auflösewalze',
  feed: 'Speiseeinheit',
  can: 'Kanne',
  winding: 'Spulstelle',
} as const;

export const partResult = {
  cured: 'Fehler weg',
  'no-effect': 'nichts geändert',
  'moves-with-part': 'Fehler wandert mit dem Teil',
} as const;

export const trialResult = {
  helped: 'hat geholfen',
  'no-change': 'nichts geändert',
  undecided: 'noch nicht bekannt',
} as const;

export const stop = {
  none: 'nichts steht',
  position: 'die Spinnstelle steht',
  section: 'die Sektion steht',
  frame: 'die Maschine steht',
  lab: 'im Labor',
} as const;

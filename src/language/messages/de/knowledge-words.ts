export const strength = {
  faint: 'sehr schwach',
  weak: 'schwach',
  moderate: 'mittel',
  strong: 'stark',
  'near-certain': 'fast sicher',
  'no link': 'kein Zusammenhang',
} as const;

export const weight = {
  slightly: 'etwas',
  clearly: 'deutlich',
  strongly: 'stark',
  decisively: 'entscheidend',
  'no weight': 'kein Gewicht',
} as const;

export const knowledgeKind = {
  causes: 'Ursachen',
  symptoms: 'Anzeichen',
  mechanisms: 'Mechanismen',
  checks: 'Kontrollen',
  actions: 'Maßnahmen',
  cases: 'Situationen',
  sources: 'Quellen',
} as const;

export const knowledgeOne = {
  causes: 'Ursache',
  symptoms: 'Anzeichen',
  mechanisms: 'Mechanismus',
  checks: 'Kontrolle',
  actions: 'Maßnahme',
  cases: 'Situation',
  sources: 'Quelle',
} as const;

export const knowledgeAbout = {
  causes: 'was nicht stimmen kann',
  symptoms: 'was an Maschine, Garn, Spule oder Stoff zu sehen ist',
  mechanisms: 'was zwischen einer Ursache und ihren Anzeichen liegt',
  checks: 'was sich ansehen oder prüfen lässt',
  actions: 'was sich tun lässt',
  cases: 'Fälle, an denen das Wissen erprobt wird',
  sources: 'Schriften, die gelesen wurden',
} as const;

export const knowledgeCount = {
  causes: '{n, plural, one {# Ursache} other {# Ursachen}}',
  symptoms: '{n, plural, one {# Anzeichen} other {# Anzeichen}}',
  mechanisms: '{n, plural, one {# Mechanismus} other {# Mechanismen}}',
  checks: '{n, plural, one {# Kontrolle} other {# Kontrollen}}',
  actions: '{n, plural, one {# Maßnahme} other {# Maßnahmen}}',
  cases: '{n, plural, one {# Situation} other {# Situationen}}',
  sources: '{n, plural, one {# Quelle} other {# Quellen}}',
} as const;

export const signGroup = {
  running: 'Lauf der Maschine',
  yarn: 'Garn',
  package: 'Spule',
  fabric: 'Stoff',
  parts: 'Teile',
} as const;

export const actionGroup = {
  setting: 'Einstellungen',
  part: 'Teile',
  clean: 'Reinigen',
  repair: 'Reparatur',
  material: 'Material',
  organise: 'Organisation',
  observe: 'Beobachten',
} as const;

export const checkGroup = {
  operator: 'Durch die Bedienung',
  fitter: 'Durch den Mechaniker',
  technologist: 'Durch den Technologen',
  laboratory: 'Im Labor',
} as const;

export const situation = {
  'one-fault': 'Ein Fehler',
  'two-faults': 'Zwei Fehler zugleich',
  misleading: 'Irreführend',
  conflicting: 'Anzeichen, die sich widersprechen',
  chance: 'Zufall, kein Fehler',
  'leave-the-nozzle': 'Nicht die Düse',
} as const;

export const measured = {
  'end-breaks': 'Fadenbrüche',
  tenacity: 'Festigkeit',
  'strength-cv': 'CV der Festigkeit',
  elongation: 'Dehnung',
  cvm: 'CVm',
  thin: 'Dünnstellen',
  thick: 'Dickstellen',
  neps: 'Nissen',
  hairiness: 'Haarigkeit',
  twist: 'Drehung',
  count: 'Zahl',
  'rotor-hours': 'Rotorstunden',
  'norm-per-1000': 'üblich je 1000',
  'picked-from': 'ausgewählt aus',
  dispersion: 'Häufung',
  a: 'Vergleich',
  b: 'Störung',
  mean: 'Mittelwert',
  cv: 'CV',
  tests: 'Prüfungen',
  target: 'Sollwert',
  readings: 'Einzelwerte',
} as const;

export const actionCost = { none: 'Keine', low: 'Gering', medium: 'Mittel', high: 'Hoch' } as const;

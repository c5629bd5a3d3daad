/** How strong a link is. */
export const strength = {
  faint: 'faint',
  weak: 'weak',
  moderate: 'moderate',
  strong: 'strong',
  'near-certain': 'near certain',
  'no link': 'no link',
} as const;

/** How much a rule weighs. */
export const weight = {
  slightly: 'slightly',
  clearly: 'clearly',
  strongly: 'strongly',
  decisively: 'decisively',
  'no weight': 'no weight',
} as const;

/** Kinds of entry, as a heading over many of them. */
export const knowledgeKind = {
  causes: 'Causes',
  symptoms: 'Signs',
  mechanisms: 'Mechanisms',
  checks: 'Checks',
  actions: 'Actions',
  cases: 'Situations',
  sources: 'Sources',
} as const;

/** One entry of a kind, above its name. */
export const knowledgeOne = {
  causes: 'Cause',
  symptoms: 'Sign',
  mechanisms: 'Mechanism',
  checks: 'Check',
  actions: 'Action',
  cases: 'Situation',
  sources: 'Source',
} as const;

/** What a kind of entry is about. */
export const knowledgeAbout = {
  causes: 'what may be wrong',
  symptoms: 'what is seen on frame, yarn, package or fabric',
  mechanisms: 'what lies between a cause and its signs',
  checks: 'what can be looked at or tested',
  actions: 'what can be done',
  cases: 'cases the knowledge is tried on',
  sources: 'writings that were read',
} as const;

/** Entries of a kind, counted. */
export const knowledgeCount = {
  causes: '{n, plural, one {# cause} other {# causes}}',
  symptoms: '{n, plural, one {# sign} other {# signs}}',
  mechanisms: '{n, plural, one {# mechanism} other {# mechanisms}}',
  checks: '{n, plural, one {# check} other {# checks}}',
  actions: '{n, plural, one {# action} other {# actions}}',
  cases: '{n, plural, one {# situation} other {# situations}}',
  sources: '{n, plural, one {# source} other {# sources}}',
} as const;

/** What signs are seen on. */
export const signGroup = {
  running: 'Running of the frame',
  yarn: 'Yarn',
  package: 'Package',
  fabric: 'Fabric',
  parts: 'Parts',
} as const;

/** Kinds of action. */
export const actionGroup = {
  setting: 'Settings',
  part: 'Parts',
  clean: 'Cleaning',
  repair: 'Repair',
  material: 'Material',
  organise: 'Organisation',
  observe: 'Watching',
} as const;

/** Who makes a check. */
export const checkGroup = {
  operator: 'By an operator',
  fitter: 'By a fitter',
  technologist: 'By a technologist',
  laboratory: 'In the laboratory',
} as const;

/** Kinds of situation. */
export const situation = {
  'one-fault': 'One fault',
  'two-faults': 'Two faults at once',
  misleading: 'Misleading',
  conflicting: 'Signs that conflict',
  chance: 'Chance, no fault',
  'leave-the-nozzle': 'Not the nozzle',
} as const;

/** Names of measurements and of their parts, within a line that tells a case. */
export const measured = {
  'end-breaks': 'end breaks',
  tenacity: 'tenacity',
  'strength-cv': 'strength cv',
  elongation: 'elongation',
  cvm: 'cvm',
  thin: 'thin',
  thick: 'thick',
  neps: 'neps',
  hairiness: 'hairiness',
  twist: 'twist',
  count: 'count',
  'rotor-hours': 'rotor hours',
  'norm-per-1000': 'norm per 1000',
  'picked-from': 'picked from',
  dispersion: 'dispersion',
  a: 'a',
  b: 'b',
  mean: 'mean',
  cv: 'cv',
  tests: 'tests',
  target: 'target',
  readings: 'readings',
} as const;

/** What an action costs. */
export const actionCost = { none: 'None', low: 'Low', medium: 'Medium', high: 'High' } as const;

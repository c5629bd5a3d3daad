/** Rights of people, to be read behind “a right to”. */
export const right = {
  read: 'look at this',
  cases: 'open cases and record steps',
  corrections: 'correct steps or reopen cases',
  setups: 'record setups',
  'machine-data': 'take in machine data',
  complaints: 'log complaints and record their steps',
  mill: 'change frames, yarns and lots',
  knowledge: 'decide on rates and rules',
  courses: 'make courses and practice cases',
  accounts: 'look after accounts and tokens',
  audit: 'look at the audit log',
  settings: 'change settings',
} as const;

/** Rights of a token. */
export const tokenRight = {
  read: 'Read everything but accounts and the audit log; diagnose',
  'machine-data': 'Send break events and running hours',
  cases: 'Open cases and record steps',
  corrections: 'Correct steps and reopen cases',
  setups: 'Record setups',
  complaints: 'Log complaints and record their steps',
  mill: 'Add and change frames, yarns and lots',
  knowledge: 'Decide on rates and rules',
  courses: 'Make courses and practice cases',
} as const;

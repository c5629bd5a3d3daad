import type { Role, TokenRight } from '../../../journal/index.js';

/** Roles in words: what they are called and what they may do. */
export const ROLE_WORDS: Readonly<Record<Role, { readonly name: string; readonly about: string }>> = {
  viewer: {
    name: 'Viewer',
    about: 'looks at everything but accounts and the audit log, diagnoses and practises',
  },
  supervisor: {
    name: 'Supervisor',
    about: 'a viewer who opens cases and records their steps, setups and machine data',
  },
  quality: {
    name: 'Quality',
    about: 'a supervisor who also keeps complaints, corrects steps and reopens cases',
  },
  trainer: { name: 'Trainer', about: 'a viewer who makes courses and practice cases' },
  technologist: {
    name: 'Technologist',
    about: 'a viewer who keeps frames, yarns, lots and setups, and decides on rates and rules',
  },
  administrator: {
    name: 'Administrator',
    about: 'a viewer who looks after accounts, tokens and settings, and reads the audit log',
  },
};

/** Rights of a token in words. */
export const TOKEN_RIGHT_WORDS: Readonly<Record<TokenRight, string>> = {
  read: 'Read everything but accounts and the audit log; diagnose',
  'machine-data': 'Send break events and running hours',
  cases: 'Open cases and record steps',
  corrections: 'Correct steps and reopen cases',
  setups: 'Record setups',
  complaints: 'Log complaints and record their steps',
  mill: 'Add and change frames, yarns and lots',
  knowledge: 'Decide on rates and rules',
  courses: 'Make courses and practice cases',
};

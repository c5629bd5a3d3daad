/** What an account can be there for; one account may have several roles. */
export const ROLES = ['viewer', 'supervisor', 'quality', 'trainer', 'technologist', 'administrator'] as const;
export type Role = (typeof ROLES)[number];

/**
 * What somebody may do. `read` is looking at everything but accounts and the audit log, diagnosing and practising;
 * none of that is kept.
 */
export const RIGHTS = [
  'read',
  /** Open cases and record their steps. */
  'cases',
  /** Correct or withdraw steps of cases, and reopen closed ones. */
  'corrections',
  /** Record, correct and withdraw setups of frames. */
  'setups',
  /** Take in break events and running hours. */
  'machine-data',
  /** Log complaints and record their steps and photos. */
  'complaints',
  /** Add and change frames, yarns and lots. */
  'mill',
  /** Switch learned base rates, try rates on closed cases, accept a new knowledge version. */
  'knowledge',
  /** Make courses, own practice cases and cases from the journal; see how trainees do. */
  'courses',
  /** Make and change accounts and tokens. */
  'accounts',
  /** Look at the audit log and take it along. */
  'audit',
  /** Change settings of the mill, such as its time zone. */
  'settings',
] as const;
export type Right = (typeof RIGHTS)[number];

/** Rights a token may have: whatever a program can be trusted with. */
export const TOKEN_RIGHTS = [
  'read',
  'cases',
  'corrections',
  'setups',
  'machine-data',
  'complaints',
  'mill',
  'knowledge',
  'courses',
] as const satisfies readonly Right[];
export type TokenRight = (typeof TOKEN_RIGHTS)[number];

/**
 * Rights by role. Administrators look after accounts and settings and do not get the work of others by that: who may
 * change what a mill knows of itself is for the mill to say, and a role more is one tick.
 */
export const RIGHTS_OF_ROLE: Readonly<Record<Role, readonly Right[]>> = {
  viewer: ['read'],
  supervisor: ['read', 'cases', 'setups', 'machine-data'],
  quality: ['read', 'cases', 'setups', 'machine-data', 'corrections', 'complaints'],
  trainer: ['read', 'courses'],
  technologist: ['read', 'setups', 'mill', 'knowledge'],
  administrator: ['read', 'accounts', 'audit', 'settings'],
};

/** All rights that roles give together. */
export const rightsOf = (roles: readonly Role[]): ReadonlySet<Right> =>
  new Set(roles.flatMap((role) => RIGHTS_OF_ROLE[role]));

/** Roles of accounts. */
export const role = {
  viewer: 'Viewer',
  supervisor: 'Supervisor',
  quality: 'Quality',
  trainer: 'Trainer',
  technologist: 'Technologist',
  administrator: 'Administrator',
} as const;

/** What somebody with a role may do. */
export const roleAbout = {
  viewer: 'looks at everything but accounts and the audit log, diagnoses and practises',
  supervisor: 'a viewer who opens cases and records their steps, setups and machine data',
  quality: 'a supervisor who also keeps complaints, corrects steps and reopens cases',
  trainer: 'a viewer who makes courses and practice cases',
  technologist: 'a viewer who keeps frames, yarns, lots and setups, and decides on rates and rules',
  administrator: 'a viewer who looks after accounts, tokens and settings, and reads the audit log',
} as const;

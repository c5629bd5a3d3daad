import type { SchemaStep } from './define.js';

/** Programs that may use the API, and the mill's own settings. */
export const clients: SchemaStep = {
  statements: [
    `create table tokens (
      id {text} primary key, name {text} not null, digest {text} not null unique, made_at {text} not null,
      used_at {text}, revoked_at {text}
    ) {table}`,
    'create table settings (key {text} primary key, value {text} not null, changed_at {text} not null, who {text} not null) {table}',
  ],
};

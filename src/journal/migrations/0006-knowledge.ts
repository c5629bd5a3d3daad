import type { SchemaStep } from './define.js';

/** Versions of the knowledge that were seen and used, and how each did on the closed cases before it was used. */
export const knowledge: SchemaStep = {
  statements: [
    `create table knowledge_versions (
      id {text} primary key, version {int} not null, reasoning {text} not null,
      state {text} not null check (state in ('seen', 'held', 'used')), seen_at {text} not null,
      use_number {int} unique, used_at {text}, how {text}, who {text} not null, note {text} not null,
      texts {bytes}
    ) {table}`,
    `create table knowledge_replays (
      number {int} primary key, version {text} not null references knowledge_versions (id), against {text} not null,
      at {text} not null, closed {int} not null, newest {int} not null, random {int} not null, seed {int} not null,
      cases {int} not null, unreadable {int} not null,
      first_before {int} not null, first_after {int} not null, three_before {int} not null, three_after {int} not null,
      log_before {real} not null, log_after {real} not null, brier_before {real} not null, brier_after {real} not null,
      gain_lower {real}, gain_upper {real}, held_because {text} not null, details {bytes} not null
    ) {table}`,
    'create index knowledge_replays_by_version on knowledge_replays (version, number)',
  ],
};

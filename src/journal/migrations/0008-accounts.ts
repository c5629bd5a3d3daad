import type { SchemaStep } from './define.js';

/** What a token could do before tokens had rights of their own. */
const RIGHTS_BEFORE = 'read cases corrections setups machine-data complaints mill courses';

/** Who may use the journal, their sessions, and the log of who did what from where. */
export const accounts: SchemaStep = {
  statements: [
    `create table accounts (
      id {text} primary key, name {text} not null unique, shown {text} not null, shown_key {text} not null unique,
      roles {text} not null, state {text} not null check (state in ('active', 'blocked')),
      password {text}, password_at {text}, external {text} unique, signed_in_at {text},
      made_at {text} not null, made_by {text} not null, changed_at {text} not null, changed_by {text} not null
    ) {table}`,
    `create table sessions (
      digest {text} primary key, id {text} not null unique, account {text} not null references accounts (id),
      made_at {text} not null, seen_at {text} not null, ends_at {text} not null,
      address {text} not null, agent {text} not null
    ) {table}`,
    'create index sessions_by_account on sessions (account)',
    `create table sign_in_links (
      digest {text} primary key, account {text} references accounts (id), made_at {text} not null,
      made_by {text} not null, ends_at {text} not null, used_at {text}
    ) {table}`,
    'create index sign_in_links_by_account on sign_in_links (account)',
    `create table sign_in_tries (
      key {text} primary key, failures {int} not null, last_at {text} not null, until_at {text}
    ) {table}`,
    'create index sign_in_tries_by_time on sign_in_tries (last_at)',
    `create table sign_in_flows (
      digest {text} primary key, state {text} not null, nonce {text} not null, verifier {text} not null,
      next {text} not null, ends_at {text} not null
    ) {table}`,
    `create table audit (
      id {text} primary key, at {text} not null, who {text} not null, account {text}, via {text} not null,
      address {text} not null, kind {text} not null, subject {text} not null, action {text} not null,
      outcome {text} not null check (outcome in ('done', 'failed', 'refused')), data {text} not null
    ) {table}`,
    'create index audit_by_time on audit (at, id)',
    'alter table entries add column via {text}',
    'alter table entries add column account {text}',
    'alter table entries add column address {text}',
    'create index entries_by_time on entries (recorded)',
    `alter table tokens add column rights {text} not null default '${RIGHTS_BEFORE}'`,
    'alter table tokens add column made_by {text}',
  ],
  own: {
    sqlite: ['audit', 'entries'].flatMap((table) =>
      ['update', 'delete'].map(
        (change) => `create trigger ${table}_no_${change} before ${change} on ${table}
          begin select raise(abort, '${table} is append-only'); end`,
      ),
    ),
    postgresql: [
      `create function refuse_change() returns trigger language plpgsql as
        $$ begin raise exception '% is append-only', tg_table_name; end $$`,
      ...['audit', 'entries'].map(
        (table) => `create trigger ${table}_append_only before update or delete on ${table}
          for each row execute function refuse_change()`,
      ),
    ],
  },
};

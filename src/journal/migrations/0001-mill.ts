import type { SchemaStep } from './define.js';

/** Frames, yarns, lots, the setups as a dated history, the history of everything, and the marks of the journal itself. */
export const mill: SchemaStep = {
  statements: [
    'create table meta (key {text} primary key, value {text} not null) {clustered}',
    'create table counters (name {text} primary key, value {int} not null) {clustered}',
    `create table posts (
      key {text} primary key, at {text} not null, fingerprint {text} not null, result {text} not null
    ) {table}`,
    `create table entries (
      kind {text} not null, subject {text} not null, version {int} not null,
      at {text} not null, recorded {text} not null, who {text} not null,
      step {text} not null, data {text} not null, supersedes {int},
      primary key (kind, subject, version)
    ) {clustered}`,
    `create table frames (
      id {text} primary key, version {int} not null, name {text} not null, place {text} not null,
      positions {int} not null check (positions > 0), note {text} not null, retired {int} not null check (retired in (0, 1))
    ) {table}`,
    `create table sections (
      frame {text} not null references frames (id), name {text} not null, first {int} not null, last {int} not null,
      primary key (frame, first), check (last >= first)
    ) {clustered}`,
    `create table yarns (
      id {text} primary key, version {int} not null, name {text} not null, end_use {text},
      count_tex {real}, twist_per_metre {real}, tenacity {real}, hairiness {real}, cvm {real}, breaks_norm {real},
      note {text} not null, retired {int} not null check (retired in (0, 1))
    ) {table}`,
    `create table lots (
      id {text} primary key, version {int} not null, name {text} not null, yarn {text} references yarns (id),
      material {text} not null, received_at {text}, note {text} not null,
      retired {int} not null check (retired in (0, 1))
    ) {table}`,
    `create table setups (
      id {text} primary key, frame {text} not null references frames (id),
      at {text} not null, recorded {text} not null, who {text} not null,
      yarn {text} references yarns (id), lot {text} references lots (id),
      given {text} not null, changes {text} not null, renewed {text} not null, note {text} not null,
      report_before {bytes}, report_after {bytes},
      supersedes {text}, superseded_by {text}, withdrawn {int} not null check (withdrawn in (0, 1))
    ) {table}`,
    'create index setups_by_frame on setups (frame, at)',
    'create index setups_by_lot on setups (lot, at)',
    'create index setups_by_yarn on setups (yarn, at)',
    `create table fittings (
      frame {text} not null references frames (id), part {text} not null, position {int} not null,
      at {text} not null, setup {text} not null references setups (id), hours_at_fitting {real} not null,
      primary key (frame, part, position, at, setup)
    ) {clustered}`,
    'create index fittings_by_setup on fittings (setup)',
  ],
};

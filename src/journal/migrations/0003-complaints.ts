import type { SchemaStep } from './define.js';

/** Complaints with their links and photos. */
export const complaints: SchemaStep = {
  statements: [
    `create table complaints (
      id {text} primary key, number {int} not null unique, version {int} not null, state {text} not null,
      customer {text} not null, fabric_fault {text} not null, claimed_kg {real},
      lot {text} references lots (id), yarn {text} references yarns (id),
      received_at {text} not null, changed_at {text} not null, closed_at {text},
      spun_from {text}, spun_until {text},
      cause {text}, cause_case {text} references cases (id), root_cause {text} not null,
      containment {text} not null, corrective {text} not null, preventive {text} not null,
      verification {text} not null, verified_at {text}, fixed {text}, search {text} not null
    ) {table}`,
    'create index complaints_by_time on complaints (received_at, id)',
    'create index complaints_by_state on complaints (state, received_at, id)',
    'create index complaints_by_yarn on complaints (yarn, received_at, id)',
    'create index complaints_by_lot on complaints (lot, received_at, id)',
    'create index complaints_by_cause on complaints (cause, received_at, id)',
    `create table complaint_frames (
      complaint {text} not null references complaints (id), frame {text} not null references frames (id),
      primary key (complaint, frame)
    ) {clustered}`,
    'create index complaint_frames_by_frame on complaint_frames (frame)',
    `create table complaint_cases (
      complaint {text} not null references complaints (id), case_id {text} not null references cases (id),
      primary key (complaint, case_id)
    ) {clustered}`,
    'create index complaint_cases_by_case on complaint_cases (case_id)',
    `create table photos (
      id {text} primary key, complaint {text} not null references complaints (id), at {text} not null,
      who {text} not null, type {text} not null, size {int} not null, digest {text} not null,
      caption {text} not null, withdrawn {int} not null check (withdrawn in (0, 1)), bytes {bytes} not null
    ) {table}`,
    'create index photos_by_complaint on photos (complaint, at)',
  ],
};

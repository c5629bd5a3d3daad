import type { SchemaStep } from './define.js';

/** Cases, the diagnoses they keep, the causes found and the checks made. */
export const cases: SchemaStep = {
  statements: [
    `create table cases (
      id {text} primary key, number {int} not null unique, version {int} not null, state {text} not null,
      title {text} not null, opened_at {text} not null, changed_at {text} not null, closed_at {text},
      frame {text} references frames (id), position {int}, section {text},
      lot {text} references lots (id), yarn {text} references yarns (id), assignee {text} not null,
      outcome {text}, cause {text}, how {text}, symptom_gone {int},
      found_at {text}, fixed_at {text}, find_minutes {real}, fix_minutes {real},
      minutes {real} not null, rotor_hours {real} not null, waste_kg {real} not null,
      nozzle_hours {real}, tube_hours {real}, rotor_part_hours {real},
      first_cause {text}, first_probability {real}, first_place {int}, first_given {real},
      last_cause {text}, last_probability {real}, last_place {int}, last_given {real},
      search {text} not null
    ) {table}`,
    'create index cases_by_time on cases (opened_at, id)',
    'create index cases_by_state on cases (state, opened_at, id)',
    'create index cases_by_frame on cases (frame, opened_at, id)',
    'create index cases_by_lot on cases (lot, opened_at, id)',
    'create index cases_by_yarn on cases (yarn, opened_at, id)',
    'create index cases_by_cause on cases (cause, opened_at, id)',
    // Pareto and durations read this index alone, and in the order in which Pareto groups.
    `create index cases_by_outcome on cases (
      outcome, cause, closed_at, minutes, rotor_hours, waste_kg, frame, find_minutes, fix_minutes
    )`,
    // How often the first-ranked cause was right, and calibration.
    `create index cases_by_first_place on cases (
      outcome, first_place, first_cause, closed_at, cause, first_probability, first_given
    )`,
    `create table case_causes (
      case_id {text} not null references cases (id), cause {text} not null, main {int} not null,
      primary key (case_id, cause)
    ) {clustered}`,
    `create table case_checks (
      case_id {text} not null references cases (id), check_id {text} not null,
      primary key (case_id, check_id)
    ) {clustered}`,
    `create table diagnoses (
      case_id {text} not null references cases (id), number {int} not null,
      at {text} not null, who {text} not null, knowledge_version {text} not null,
      input {text} not null, ranked {text} not null, body {bytes} not null,
      primary key (case_id, number)
    ) {table}`,
  ],
};

import type { SchemaStep } from './define.js';

/**
 * What a case is searched by lies in a table of its own, in the order in which lists show cases: looking through all of
 * them reads nothing else. Where cases come back is counted in the order of indexes of its own, the age of nozzles by a
 * whole number kept with the case.
 */
export const quickCases: SchemaStep = {
  statements: [
    `create table case_texts (
      opened_at {text} not null, case_id {text} not null references cases (id), search {text} not null,
      primary key (opened_at, case_id)
    ) {clustered}`,
    '{take_your_time}',
    'insert into case_texts (opened_at, case_id, search) select opened_at, id, search from cases',
    'alter table cases drop column search',
    'alter table cases add column nozzle_age {int}',
    'drop index cases_by_place',
    `create index cases_by_frame_cause on cases (
      frame, cause, position, opened_at, closed_at, lot, yarn, outcome
    )`,
    'create index cases_by_lot_cause on cases (lot, cause, opened_at, closed_at, frame, yarn, outcome)',
    `create index cases_by_nozzle_age on cases (
      nozzle_age, cause, opened_at, closed_at, frame, lot, yarn, outcome
    )`,
  ],
  own: {
    sqlite: ['update cases set nozzle_age = cast(nozzle_hours / 5000 as integer)'],
    postgresql: ['update cases set nozzle_age = floor(nozzle_hours / 5000)'],
  },
};

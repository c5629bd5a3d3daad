import type { SchemaStep } from './define.js';

/**
 * The thousandth in which the probability of the first-ranked cause lies, written with the ranking: calibration over all
 * cases is then a sum over a thousand groups that lie together, and not over every case. Times to find and to fix get
 * indexes in which a quartile is found by counting. The indexes of the quality desk hold every column by which it
 * narrows down, so that it reads nothing else.
 */
export const calibration: SchemaStep = {
  statements: [
    'alter table cases add column first_mille {int}',
    'alter table cases add column last_mille {int}',
    'drop index cases_by_outcome',
    'drop index cases_by_first_place',
    `create index cases_by_outcome on cases (
      outcome, cause, opened_at, closed_at, frame, yarn, lot, minutes, rotor_hours, waste_kg
    )`,
    `create index cases_by_first_place on cases (
      outcome, first_place, opened_at, closed_at, frame, yarn, lot, first_cause
    )`,
    `create index cases_by_first_mille on cases (
      outcome, first_mille, opened_at, closed_at, frame, yarn, lot, first_cause, cause, first_probability, first_given
    )`,
    // Where cases come back.
    `create index cases_by_place on cases (
      opened_at, closed_at, frame, position, lot, yarn, outcome, cause, nozzle_hours
    )`,
    'create index cases_by_find_minutes on cases (find_minutes, opened_at, closed_at, frame, yarn, lot)',
    'create index cases_by_fix_minutes on cases (fix_minutes, opened_at, closed_at, frame, yarn, lot)',
  ],
  own: {
    sqlite: [
      'update cases set first_mille = cast(first_probability * 1000 as integer), last_mille = cast(last_probability * 1000 as integer)',
    ],
    postgresql: [
      'update cases set first_mille = floor(first_probability * 1000), last_mille = floor(last_probability * 1000)',
    ],
  },
};

import type { SchemaStep } from './define.js';

/**
 * The thousandth in which the probability of the first-ranked cause lies, written with the ranking: calibration over all
 * cases is then a sum over a thousand groups that lie together, and not over every case. Times to find and to fix get
 * indexes in which a quartile is found by counting.
 */
export const calibration: SchemaStep = {
  statements: [
    'alter table cases add column first_mille {int}',
    'alter table cases add column last_mille {int}',
    `create index cases_by_first_mille on cases (
      outcome, first_mille, closed_at, first_cause, cause, first_probability, first_given
    )`,
    'create index cases_by_find_minutes on cases (find_minutes, outcome, closed_at)',
    'create index cases_by_fix_minutes on cases (fix_minutes, outcome, closed_at)',
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

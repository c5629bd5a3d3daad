import type { SchemaStep } from './define.js';

/**
 * Sums of breaks by quarter of an hour take the place of those by hour: the clocks of every time zone differ from UTC by
 * whole quarters, so the days of any mill can be put together from them. A quarter is counted from 1970 in UTC.
 */
export const breakQuarters: SchemaStep = {
  statements: [
    `create table break_quarters (
      frame {text} not null references frames (id), quarter {int} not null, breaks {int} not null,
      primary key (frame, quarter)
    ) {clustered}`,
    '{take_your_time}',
    `insert into break_quarters (frame, quarter, breaks)
      select frame, {quarter_of_at}, count(*) from break_events group by frame, {quarter_of_at}`,
    'drop table break_hours',
  ],
};

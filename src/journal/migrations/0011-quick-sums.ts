import type { SchemaStep } from './define.js';

/** Breaks of a frame by UTC day, over all its positions: rates of a year come from some hundred rows a frame. */
export const quickSums: SchemaStep = {
  statements: [
    `create table break_totals (
      frame {text} not null references frames (id), day {text} not null, breaks {int} not null,
      primary key (frame, day)
    ) {clustered}`,
    '{take_your_time}',
    `insert into break_totals (frame, day, breaks)
      select frame, day, sum(breaks) from break_days group by frame, day`,
  ],
};

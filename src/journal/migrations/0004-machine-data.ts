import type { SchemaStep } from './define.js';

/** Break events, running time, and the sums over them that keep questions quick. */
export const machineData: SchemaStep = {
  statements: [
    `create table batches (
      id {text} primary key, kind {text} not null, at {text} not null, who {text} not null,
      given {int} not null, added {int} not null, fingerprint {text} not null
    ) {table}`,
    `create table break_events (
      frame {text} not null references frames (id), at {text} not null, position {int} not null,
      primary key (frame, at, position)
    ) {clustered}`,
    `create table break_days (
      frame {text} not null references frames (id), day {text} not null, position {int} not null, breaks {int} not null,
      primary key (frame, day, position)
    ) {clustered}`,
    `create table break_hours (
      frame {text} not null references frames (id), hour {text} not null, breaks {int} not null,
      primary key (frame, hour)
    ) {clustered}`,
    `create table runs (
      frame {text} not null references frames (id), from_at {text} not null, until_at {text} not null,
      rotor_hours {real} not null, frame_hours {real} not null, breaks {int}, batch {text} not null references batches (id),
      primary key (frame, from_at)
    ) {clustered}`,
    `create table running_days (
      frame {text} not null references frames (id), day {text} not null, rotor_hours {real} not null,
      frame_hours {real} not null, counted_breaks {int} not null, counted_rotor_hours {real} not null,
      primary key (frame, day)
    ) {clustered}`,
  ],
};

import type { SchemaStep } from './define.js';

/** Courses with who takes part and what they did, and the trainers' own practice cases. */
export const training: SchemaStep = {
  statements: [
    `create table courses (
      id {text} primary key, number {int} not null unique, version {int} not null, title {text} not null,
      class_group {text} not null, state {text} not null, note {text} not null, items {text} not null,
      made_at {text} not null, changed_at {text} not null
    ) {table}`,
    `create table practice_cases (
      id {text} primary key, number {int} not null unique, version {int} not null, title {text} not null,
      origin {text} not null, case_text {text} not null, from_case {text} references cases (id),
      agrees {int} not null check (agrees in (0, 1)), knowledge {text} not null,
      retired {int} not null check (retired in (0, 1)), changed_at {text} not null
    ) {table}`,
    `create table course_members (
      course {text} not null references courses (id), trainee {text} not null, joined_at {text} not null,
      primary key (course, trainee)
    ) {clustered}`,
    `create table attempts (
      id {text} primary key, course {text} not null references courses (id), number {int} not null,
      item {text} not null, kind {text} not null, trainee {text} not null, at {text} not null,
      knowledge {text} not null, result {text} not null, sheet {bytes},
      unique (course, number)
    ) {table}`,
    'create index attempts_by_trainee on attempts (course, trainee, number)',
  ],
};

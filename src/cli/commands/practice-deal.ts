import { stringify } from 'yaml';
import { caseObject } from '../../rules/case/write-case.js';
import type { PracticeCase, PracticeLevel, TrainingRoom } from '../../rules/training/index.js';
import { STOP_WORDS } from '../../rules/words.js';
import { wholeNumber } from '../arguments.js';
import { type Command, JSON_OPTION, KNOWLEDGE_OPTION, printJson } from '../command.js';
import { EXIT } from '../errors.js';
import { minutes } from '../layout/figures.js';
import { startPage } from '../layout/page.js';
import type { Terminal } from '../terminal.js';
import { asInput, openRoom } from '../training/room.js';

const MOST_SEED = 999_999;

/** `peelpoint practice deal`: a frame with a hidden truth. */
export const practiceDeal: Command = {
  name: 'practice deal',
  summary: 'deal a practice case: a frame in trouble, the truth kept back',
  about: [
    'Deals a frame whose fault is drawn from the product’s own network and prints what is known of it, as a case file. Level 1 has one clear fault, 2 look-alikes, 3 two faults, 4 no fault at all, 5 data that mislead. The same level and seed always give the same case.',
    'Write down the checks you would make and the causes you would name, and have them marked with practice mark.',
  ],
  arguments: [],
  options: {
    level: { value: 'N', help: '1 to 5, 1 when left out' },
    seed: { value: 'N', help: `number of the case, 1 to ${MOST_SEED}; 1 when left out` },
    checks: { help: 'list the checks that can be asked for, with what they take' },
    key: { help: 'for the trainer: print the hidden truth and every answer as well' },
    ...JSON_OPTION,
    ...KNOWLEDGE_OPTION,
  },
  examples: [
    'peelpoint practice deal --level 2 --seed 7',
    'peelpoint practice deal --level 4 --seed 3 --key',
  ],
  run: async (given, terminal) => {
    const level = (wholeNumber(given, 'level', [1, 5]) ?? 1) as PracticeLevel;
    const seed = wholeNumber(given, 'seed', [1, MOST_SEED]) ?? 1;
    const room = await openRoom(given);
    const { dealCase, drawAnswers } = await import('../../rules/training/index.js');
    const dealt = await asInput('the number', () => dealCase(room, { level, seed }));
    const answers = await drawAnswers(room, dealt);
    const withKey = given.options.has('key');
    if (given.options.has('json'))
      printJson(terminal, {
        code: dealt.code,
        level,
        seed,
        title: dealt.title,
        case: caseObject(dealt.input),
        checks: listChecks(room, answers),
        ...(withKey ? { truth: dealt.truth, answers: Object.fromEntries(answers) } : {}),
      });
    else printDeal(terminal, room, dealt, answers, { key: withKey, checks: given.options.has('checks') });
    return EXIT.done;
  },
};

function listChecks(room: TrainingRoom, answers: ReadonlyMap<string, string>) {
  return [...room.reasoner.knowledge.book.checks.values()]
    .filter((check) => answers.has(check.id))
    .map((check) => ({
      id: check.id,
      label: check.label,
      ask: check.ask,
      minutes: check.minutes,
      waitingMinutes: check['waiting-minutes'] ?? 0,
      stops: check.stops,
    }));
}

function printDeal(
  terminal: Terminal,
  room: TrainingRoom,
  dealt: PracticeCase,
  answers: ReadonlyMap<string, string>,
  show: { readonly key: boolean; readonly checks: boolean },
): void {
  const page = startPage(terminal);
  const { book } = room.reasoner.knowledge;
  const { title, ...rest } = caseObject(dealt.input);
  page.strong(String(title));
  page.line();
  for (const line of stringify(rest, { lineWidth: 100 }).trimEnd().split('\n')) page.line(line);
  if (show.checks) {
    page.heading('Checks that can be asked for');
    page.table(
      [
        { title: 'Check' },
        { title: 'What it asks', wraps: true },
        { title: 'Takes', align: 'right' },
        { title: 'Stops' },
      ],
      listChecks(room, answers).map((check) => [
        check.id,
        check.ask,
        minutes(check.minutes),
        STOP_WORDS[check.stops],
      ]),
    );
  }
  if (show.key) {
    page.heading('Key, for the trainer');
    for (const cause of dealt.truth.causes)
      page.text(`${book.causes.get(cause)?.label ?? cause} (${cause})`, '  ');
    for (const [check, outcome] of answers)
      page.text(`${check}: ${book.checks.get(check)?.outcomes[outcome]?.label ?? outcome}`, {
        first: '  · ',
        rest: '    ',
      });
  }
  page.heading('To have it marked');
  page.text(
    'Write your moves into a file, in the order in which you would make them, and call peelpoint practice mark on it:',
  );
  page.line();
  for (const line of [
    `case: ${dealt.code}`,
    'moves:',
    '  - {check: broken-tail}',
    '  - {check: groove-look, standstill: true}   # said: everything stands still',
    '  - propose: {rotor-groove-deposit: 60 %}',
    '  - {act: [clean-rotor], on: trial, standstill: true}',
  ])
    page.line(`    ${line}`);
  page.print();
}

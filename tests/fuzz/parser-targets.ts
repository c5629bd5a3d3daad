import fc from 'fast-check';
import type { z } from 'zod';
import { readArguments } from '../../src/cli/arguments.js';
import { COMMANDS } from '../../src/cli/commands.js';
import { InputError } from '../../src/cli/errors.js';
import { findCommand } from '../../src/cli/find-command.js';
import {
  breakEventsSchema,
  bySchema,
  complaintStepSchema,
  frameSchema,
  JournalInputError,
  lotSchema,
  runSchema,
  sniffPicture,
  stepSchema,
  yarnSchema,
} from '../../src/journal/index.js';
import { readInput } from '../../src/journal/input.js';
import { readPage } from '../../src/journal/quality/pages.js';
import { readCase, readCaseObject } from '../../src/rules/case/case-file.js';
import type { CaseReading } from '../../src/rules/case/types.js';
import { writeCase } from '../../src/rules/case/write-case.js';
import type { Mill } from '../../src/rules/knowledge/load-mill.js';
import {
  actionSchema,
  causeSchema,
  checkSchema,
  mechanismSchema,
  symptomSchema,
} from '../../src/rules/knowledge/schema.js';
import { readYaml } from '../../src/rules/knowledge/yaml-file.js';
import { readStock } from '../../src/rules/plans/read-stock.js';
import {
  readAttempt,
  readTrainerCase,
  TrainingError,
  type TrainingRoom,
} from '../../src/rules/training/index.js';
import { readRecords } from '../../src/rules/workshop/published-record.js';
import { readState, stateOfCase, writeQuery } from '../../src/server/bench-state.js';
import { readCaseForm } from '../../src/server/case-form.js';
import { readTableQuery } from '../../src/server/counts/table-query.js';
import { readPlanQuery } from '../../src/server/plans/plan-query.js';
import { readPracticeStep, readProposal } from '../../src/server/training/practice-form.js';
import { practiceQuery, readPracticeState } from '../../src/server/training/practice-state.js';
import { convertQuantity } from '../../src/spinning/units/conversion.js';
import { QUANTITY_KINDS, type QuantityKind, readQuantity } from '../../src/spinning/units/quantity.js';
import { readCellHours, readCellNumber } from '../../src/statistics/tables/cell-number.js';
import { readCellClock, readCellTime } from '../../src/statistics/tables/cell-time.js';
import { inspectTable, readTable, writeCsv } from '../../src/statistics/tables/index.js';
import { changedBytes, changedJson, changedText, hostileJson, hostileText } from './hostile.js';
import { jsonFor } from './schema-json.js';
import { listTarget, slowTarget, type Target, target } from './targets.js';
import { BOMBS, CASE_TEXTS, KNOWLEDGE_TEXTS, TABLE_TEXTS } from './texts.js';

/** What the targets stand on. */
export interface Ground {
  readonly vocabulary: Parameters<typeof readCase>[1];
  readonly mill: Mill;
  readonly room: TrainingRoom;
}

const must = (holds: boolean, words: string): void => {
  if (!holds) throw new Error(words);
};

/** A refusal says what is wrong, and where something is. */
function mustNameProblems(problems: readonly { readonly message: string; readonly field: string }[]): void {
  must(problems.length > 0, 'refused without a problem');
  for (const problem of problems) {
    must(problem.message.trim().length > 3, `a problem says nothing: ${JSON.stringify(problem)}`);
    must(
      problem.message.length < 2000,
      `a problem repeats too much of what was given: ${problem.message.length}`,
    );
  }
}

function checkCase(reading: CaseReading): void {
  if (!reading.ok) {
    mustNameProblems(reading.problems);
    return;
  }
  for (const value of Object.values(reading.case.given.values))
    must(typeof value !== 'number' || Number.isFinite(value), 'a number that is none was accepted');
}

/** No input may reach the prototype that all objects share. */
function mustBeClean(): void {
  must(!('polluted' in {}) && Object.keys(Object.prototype).length === 0, 'the common prototype was changed');
}

const journalSchemas: readonly (readonly [string, z.ZodType])[] = [
  ['steps of a case', stepSchema],
  ['steps of a complaint', complaintStepSchema],
  ['frames', frameSchema],
  ['yarns', yarnSchema],
  ['lots', lotSchema],
  ['runs', runSchema],
  ['break events', breakEventsSchema],
  ['who writes', bySchema],
];

const pairs = (names: readonly string[]): fc.Arbitrary<URLSearchParams> =>
  fc
    .array(
      fc.tuple(
        fc.oneof({ weight: 5, arbitrary: fc.constantFrom(...names) }, { weight: 1, arbitrary: hostileText }),
        hostileText,
      ),
      { maxLength: 12 },
    )
    .map((entries) => new URLSearchParams(entries as [string, string][]));

/** Every reader of the product with inputs made for it. */
export function parserTargets({ vocabulary, mill, room }: Ground): Target[] {
  const caseFields = [
    'frame',
    'title',
    'note',
    'scope',
    'onset',
    'changed',
    'drop',
    'later',
    'case',
    'setup.count',
    'setup.count.unit',
    'setup.twist',
    'setup.twist.unit',
    'setup.fibre',
    'setup.fibre.1',
    'setup.share.1',
    'setup.fibre.2',
    'setup.share.2',
    'setup.rotor.speed',
    'setup.nozzle.surface',
    'setup.nozzle.notches',
    'setup.tube.insert',
    'setup.end-use',
    'before.twist',
    'before.nozzle.surface',
    'setup.room.temperature',
    'setup.room.temperature.unit',
    ...[...vocabulary.symptoms].slice(0, 12).map((id) => `observations.${id}`),
    ...[...vocabulary.checks.keys()].slice(0, 12).map((id) => `findings.${id}`),
    'findings.part-exchange',
    'findings.part-exchange.nozzle',
    'measurements.tenacity.mean',
    'measurements.tenacity.readings',
    'measurements.end-breaks.count',
    'measurements.end-breaks.rotor-hours',
    'measurements.end-breaks.a.count',
  ];
  const caseObjects = CASE_TEXTS.slice(0, 6).flatMap((text) => {
    const reading = readCase(text, vocabulary);
    return reading.ok
      ? [
          JSON.parse(
            JSON.stringify({
              setup: { fibre: 'cotton', count: '20 Ne', rotor: { speed: 90_000 } },
              observations: reading.case.observations,
            }),
          ),
        ]
      : [];
  });
  const kinds = Object.keys(QUANTITY_KINDS) as QuantityKind[];
  const quantity = fc.oneof(
    {
      weight: 3,
      arbitrary: changedText(
        [
          '20 Ne',
          '29,5 tex',
          '4.3 alpha-e',
          '105 000 rpm',
          '105k rpm',
          '-3 °C',
          '33 mm',
          '12.5 cN/tex',
          '58 %',
        ],
        3,
      ),
    },
    { weight: 1, arbitrary: hostileText },
  );
  const schemas = {
    cause: causeSchema,
    check: checkSchema,
    action: actionSchema,
    mechanism: mechanismSchema,
    symptom: symptomSchema,
  };
  return [
    target('case files', 1200, changedText(CASE_TEXTS), (text) => {
      const reading = readCase(text, vocabulary);
      checkCase(reading);
      if (!reading.ok)
        must(
          reading.problems.every((one) => (one.line ?? 0) >= 1),
          'a problem has no line',
        );
      else {
        // What is written out is read again as the same case.
        const again = readCase(writeCase(reading.case), vocabulary, { partial: true });
        must(again.ok, `a case that was read cannot be read again once written: ${JSON.stringify(again)}`);
      }
      mustBeClean();
    }),
    target(
      'case files that try to hurt',
      40,
      fc.oneof(
        fc.constantFrom(...BOMBS),
        fc.tuple(fc.constantFrom(...BOMBS), changedText(CASE_TEXTS)).map((two) => two.join('\n')),
      ),
      (text) => {
        checkCase(readCase(text, vocabulary));
        mustBeClean();
      },
    ),
    target('cases as data', 20000, changedJson(caseObjects), (data) => {
      checkCase(readCaseObject(data, vocabulary, { partial: true }));
      mustBeClean();
    }),
    target('cases in an address', 6000, pairs(caseFields), (params) => {
      const state = readState(params, mill);
      const query = writeQuery(state);
      must(
        writeQuery(readState(new URLSearchParams(query), mill)) === query,
        `an address is not kept: ${query}`,
      );
      const form = readCaseForm(state, vocabulary);
      if (form.problems.length > 0) mustNameProblems(form.problems);
      mustBeClean();
    }),
    target(
      'quantities',
      44000,
      fc.tuple(
        fc.constantFrom(...kinds),
        fc.oneof(quantity, fc.double()),
        fc.oneof(fc.constant(undefined), fc.double()),
      ),
      ([kind, text, countTex]) => {
        const reading = readQuantity(text, kind, countTex === undefined ? {} : { countTex });
        if (reading.ok) must(Number.isFinite(reading.value), 'a quantity is no number');
        else
          must(
            reading.reason.length > 5 && reading.reason.length < 8000 && reading.allowed.length > 0,
            'a refusal says nothing',
          );
      },
    ),
    target(
      'conversions',
      8000,
      fc.tuple(
        quantity,
        fc.oneof(fc.constantFrom('tex', 'Ne', 't/m', 'alpha-m'), hostileText),
        fc.option(quantity, { nil: undefined }),
      ),
      ([text, unit, count]) => {
        const result = convertQuantity(text, unit, count === undefined ? {} : { count });
        if (result.ok) must(Number.isFinite(result.value), 'a conversion gives no number');
        else must(result.reason.length > 5, 'a refusal says nothing');
      },
    ),
    target(
      'cells of tables',
      24000,
      fc.oneof(
        hostileText,
        changedText(
          [
            '24.11.2026 06:12',
            '2026-11-24T06:12:00Z',
            '11/24/26 6:12 pm',
            '24 Nov 2026',
            '470,5',
            '1.234.567',
            '7 h 30',
          ],
          3,
        ),
      ),
      (text) => {
        for (const order of [undefined, 'dmy', 'mdy'] as const) {
          const time = readCellTime(text, order);
          if (!time.ok) must(time.why().length > 3, 'a refusal says nothing');
        }
        const clock = readCellClock(text);
        must(clock === undefined || (clock >= 0 && clock < 86_400_000), `a clock reads ${clock}`);
        for (const decimal of ['.', ','] as const) {
          must(
            readCellNumber(text, decimal) === undefined || Number.isFinite(readCellNumber(text, decimal)),
            'a cell is no number',
          );
          readCellHours(text, decimal, 'min');
        }
      },
    ),
    slowTarget(
      'tables of breaks',
      1000,
      fc.tuple(
        changedBytes(TABLE_TEXTS),
        pairs([
          'col.0',
          'col.1',
          'col.2',
          'col.3',
          'decimal',
          'dates',
          'unit',
          'norm',
          'hours',
          'positions',
          'running',
          'leave-out',
          'without',
        ]),
      ),
      async ([bytes, params]) => {
        const { proposal } = inspectTable(bytes);
        const query = readTableQuery(params, proposal);
        for (const problem of query.problems) must(problem.text.length > 5, 'a problem says nothing');
        const reading = await readTable(bytes, query.mapping, {
          leaveOutBadRows: query.leaveOut,
          withoutReasons: query.without,
        });
        if (!reading.ok) must(reading.problem.length > 10, 'a refusal says nothing');
      },
    ),
    target(
      'CSV that is written',
      4000,
      fc.array(fc.array(fc.oneof(hostileText, fc.double()), { minLength: 1, maxLength: 4 }), {
        maxLength: 3,
      }),
      (rows) => {
        const text = writeCsv(['a'], rows);
        for (const cell of cellsOf(text.replace(/^\ufeff/, '')))
          must(
            !/^[\s]*[=+\-@\t\r＝＋－＠]/.test(cell) || /^-?(?:\d|Infinity)/.test(cell),
            `a spreadsheet would run ${JSON.stringify(cell)}`,
          );
      },
    ),
    ...journalSchemas.map(([name, schema]) =>
      target(`journal: ${name}`, 700, jsonFor(schema), (value) => {
        try {
          readInput(schema, value);
        } catch (error) {
          if (!(error instanceof JournalInputError)) throw error;
          must(error.problems.length > 0, 'refused without a problem');
          for (const { field, allowed, value: shown } of error.problems)
            must(
              field !== '' && allowed !== '' && shown.length <= 61,
              `a problem says nothing: ${field} ${shown} ${allowed}`,
            );
        }
        mustBeClean();
      }),
    ),
    target(
      'keys of pages',
      3000,
      fc.oneof(
        hostileText,
        hostileJson.map((value) => Buffer.from(JSON.stringify(value)).toString('base64url')),
      ),
      (after) => {
        try {
          readPage({ after });
        } catch (error) {
          if (!(error instanceof JournalInputError)) throw error;
        }
      },
    ),
    target(
      'pictures by their bytes',
      3000,
      fc.tuple(
        fc.constantFrom<number[]>(
          [],
          [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a],
          [0xff, 0xd8, 0xff],
          [0x52, 0x49, 0x46, 0x46],
        ),
        fc.uint8Array({ maxLength: 40 }),
      ),
      ([head, tail]) => {
        sniffPicture(Uint8Array.from([...head, ...tail]));
      },
    ),
    target(
      'files of the knowledge base',
      300,
      fc
        .constantFrom(...KNOWLEDGE_TEXTS)
        .chain(({ kind, text }) => changedText([text]).map((changed) => ({ kind, text: changed }))),
      ({ kind, text }) => {
        const result = readYaml<unknown>('file.yaml', text, schemas[kind]);
        if (!result.ok)
          must(
            result.problems.length > 0 && result.problems.every((one) => one.message !== ''),
            'refused without a problem',
          );
        mustBeClean();
      },
    ),
    listTarget('files of the knowledge base that try to hurt', BOMBS, (text) => {
      must(!readYaml('file.yaml', text, causeSchema).ok, 'a bomb was taken for a cause');
    }),
    target(
      'lists of parts',
      1000,
      changedText([
        'nozzles:\n  - {texture: 4-notches, radius: 4 mm, material: ceramic}\ninserts: [smooth, 2-groove]\ntubes: [30 deg]\nwashers: [0.5 mm]\n',
        '{}',
      ]),
      (text) => {
        const reading = readStock(text);
        if (!reading.ok) mustNameProblems(reading.problems);
      },
    ),
    target(
      'records of publications',
      1500,
      changedText(['{"id": "a", "kind": "direction"}\n{"id": "b"}\n', '[{"id": "a"}]']),
      (text) => {
        for (const problem of readRecords(text).problems)
          must(problem.message !== '', 'a problem says nothing');
      },
    ),
    slowTarget(
      'attempts of trainees',
      80,
      changedText(
        [
          'case: 2-7\nmoves:\n  - {check: groove-look, standstill: true}\n  - {propose: {twist-too-low: 70 %}}\n  - {act: [raise-twist], on: trial}\n',
        ],
        6,
      ),
      async (text) => {
        try {
          await readAttempt(room, text);
        } catch (error) {
          if (!(error instanceof TrainingError)) throw error;
          mustNameProblems(error.problems);
        }
      },
    ),
    target(
      'cases of trainers',
      400,
      changedText(CASE_TEXTS.map((text) => `${text}\nanswer-key:\n  causes: [twist-too-low]\n`)),
      (text) => {
        try {
          readTrainerCase(text, room);
        } catch (error) {
          if (!(error instanceof TrainingError)) throw error;
          mustNameProblems(error.problems);
        }
      },
    ),
    target(
      'practice in an address',
      4000,
      pairs(['case', 'm', 'closed', 'trainee', 'move', 'check', 'cause', 'action', 'draft']),
      (params) => {
        const state = readPracticeState(params);
        if (state !== undefined) {
          const again = readPracticeState(new URLSearchParams(practiceQuery(state)));
          must(JSON.stringify(again) === JSON.stringify(state), 'an address is not kept');
        }
        readPracticeStep(params);
        readProposal(Object.fromEntries(params));
      },
    ),
    target(
      'plans in an address',
      3000,
      pairs(['combine', 'frozen', 'keep', 'stock', 'texture', 'size', 'show']),
      (params) => {
        readPlanQuery(params);
      },
    ),
    target(
      'words of the command line',
      5000,
      fc.array(
        fc.oneof(
          fc.constantFrom(
            'diagnose',
            'serve',
            '--port',
            '--json',
            '--data',
            '-o',
            '--',
            'trial',
            'plan',
            'knowledge',
            'check',
            '--from',
            '100',
          ),
          hostileText,
        ),
        { maxLength: 6 },
      ),
      (words) => {
        try {
          const { command, rest } = findCommand(words, COMMANDS);
          readArguments(command, rest);
        } catch (error) {
          if (!(error instanceof InputError)) throw error;
          must(error.message !== '' || error.problems.length > 0, 'a refusal says nothing');
        }
      },
    ),
    listTarget(
      'cases kept as an address',
      [...mill.values()].flatMap((frame) => (frame.example === undefined ? [] : [frame.example])),
      (input) => {
        must(
          readCaseForm(stateOfCase(input), vocabulary).problems.length === 0,
          'a case cannot be read from its own address',
        );
      },
    ),
  ];
}

/** The cells of a CSV text without its quotes; enough for text that the product itself wrote. */
function cellsOf(text: string): string[] {
  const cells: string[] = [];
  let cell = '';
  let quoted = false;
  for (let at = 0; at < text.length; at++) {
    const char = text[at] ?? '';
    if (quoted) {
      if (char !== '"') cell += char;
      else if (text[at + 1] === '"') {
        cell += '"';
        at++;
      } else quoted = false;
    } else if (char === '"' && cell === '') quoted = true;
    else if (char === ',' || char === '\n' || char === '\r') {
      cells.push(cell);
      cell = '';
    } else cell += char;
  }
  return [...cells, cell];
}

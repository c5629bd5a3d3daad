import type { KeyVerdict, TrainerCase, TrainingRoom } from '../../rules/training/index.js';
import {
  type Command,
  type Given,
  JSON_OPTION,
  KNOWLEDGE_OPTION,
  optionText,
  printJson,
} from '../command.js';
import { argumentError, EXIT } from '../errors.js';
import { DATA_OPTION, placeOf, withJournal } from '../journal/place.js';
import { decibans, percent } from '../layout/figures.js';
import { startPage } from '../layout/page.js';
import { readSource, sourceName } from '../source.js';
import type { Terminal } from '../terminal.js';
import { asInput, openRoom } from '../training/room.js';

/** `peelpoint practice check FILE`: a trainer's own case held against the product. */
export const practiceCheck: Command = {
  name: 'practice check',
  summary: 'hold a practice case of your own against the product',
  about: [
    'Reads a case file with an answer-key and says whether the product agrees with the key once the fixed answers are given. If it does not, the ledgers of the keyed causes and of the cause it puts first are printed.',
    'Exits 1 when it does not agree.',
  ],
  arguments: [{ name: 'FILE', help: 'the case with its answer-key, YAML or JSON, or - for standard input' }],
  options: { ...JSON_OPTION, ...KNOWLEDGE_OPTION },
  examples: ['peelpoint practice check own-case.yaml'],
  run: async (given, terminal) => {
    const { verdict } = await check(given, terminal);
    if (given.options.has('json')) printJson(terminal, verdict);
    else printVerdict(terminal, verdict);
    return verdict.agrees ? EXIT.done : EXIT.failed;
  },
};

/** `peelpoint practice keep FILE`: the same, and kept in the journal for trainees to practise. */
export const practiceKeep: Command = {
  name: 'practice keep',
  summary: 'keep a practice case of your own for trainees to work',
  about: [
    'Holds a case file with an answer-key against the product as practice check does, and keeps it in the journal. Where the product does not agree with the key it is kept only with --anyway.',
  ],
  arguments: [{ name: 'FILE', help: 'the case with its answer-key, YAML or JSON, or - for standard input' }],
  options: {
    title: { value: 'TEXT', help: 'what trainees see; it must not give the cause away' },
    who: { value: 'NAME', help: 'who keeps it; “command line” when left out' },
    anyway: { help: 'keep it although the product does not agree' },
    ...DATA_OPTION,
    ...JSON_OPTION,
    ...KNOWLEDGE_OPTION,
  },
  examples: ['peelpoint practice keep own-case.yaml --title "Since the cleaning round"'],
  run: async (given, terminal) => {
    const title = (optionText(given, 'title') ?? '').trim();
    if (title === '')
      throw argumentError('--title', '', 'is missing', [
        'what trainees see, such as "After the night shift"',
      ]);
    const { verdict, text, room } = await check(given, terminal);
    if (!verdict.agrees && !given.options.has('anyway')) {
      printVerdict(terminal, verdict);
      terminal.err('It was not kept. Give --anyway to keep it all the same.\n');
      return EXIT.failed;
    }
    const { addPracticeCase } = await import('../../journal/index.js');
    const kept = await withJournal(placeOf(given), (journal) =>
      addPracticeCase(
        journal,
        {
          title,
          text,
          origin: 'written',
          agrees: verdict.agrees,
          knowledge: room.reasoner.knowledge.version,
        },
        { who: optionText(given, 'who') ?? 'command line' },
      ),
    );
    if (given.options.has('json')) printJson(terminal, { id: kept.id, version: kept.version, title });
    else
      terminal.out(
        `Kept as ${kept.id}. Trainees work it at /training/practice?case=${kept.id}.${kept.version}\n`,
      );
    return EXIT.done;
  },
};

async function check(
  given: Given,
  terminal: Terminal,
): Promise<{
  readonly text: string;
  readonly own: TrainerCase;
  readonly verdict: KeyVerdict;
  readonly room: TrainingRoom;
}> {
  const [file = ''] = given.arguments;
  const text = await readSource(file, terminal);
  const room = await openRoom(given);
  const { checkAnswerKey, readTrainerCase } = await import('../../rules/training/index.js');
  return asInput(sourceName(file), async () => {
    const own = readTrainerCase(text, room);
    return { text, own, room, verdict: await checkAnswerKey(room, own) };
  });
}

function printVerdict(terminal: Terminal, verdict: KeyVerdict): void {
  const page = startPage(terminal);
  page.text(verdict.words);
  if (!verdict.agrees)
    for (const { cause, title } of [
      ...verdict.keyed.map((one) => ({ cause: one.cause, title: `Your key, number ${one.rank}` })),
      ...(verdict.first === undefined
        ? []
        : [{ cause: verdict.first, title: 'What the product puts first' }]),
    ]) {
      page.heading(`${title}: ${cause.label}, ${percent(cause.probability)}`);
      page.table(
        [
          { title: 'What is known', wraps: true },
          { title: 'Decibans', align: 'right' },
          { title: 'Then', align: 'right' },
        ],
        cause.ledger.map((entry) => [
          entry.label,
          entry.kind === 'base' ? 'start' : decibans(entry.decibans),
          percent(entry.after),
        ]),
      );
    }
  page.print();
}

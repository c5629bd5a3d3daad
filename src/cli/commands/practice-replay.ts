import type { ReplayStep, WhyNot } from '../../rules/training/index.js';
import { oneOf } from '../arguments.js';
import { type Command, JSON_OPTION, KNOWLEDGE_OPTION, optionText, printJson } from '../command.js';
import { EXIT, InputError } from '../errors.js';
import { decibans, minutes, percent } from '../layout/figures.js';
import { type Page, startPage } from '../layout/page.js';
import { readSource, sourceName } from '../source.js';
import { openRoom } from '../training/room.js';

/** `peelpoint practice replay`: a diagnosis, step by step. */
export const practiceReplay: Command = {
  name: 'practice replay',
  summary: 'replay a diagnosis step by step, as for a class',
  about: [
    'Reads a case file and shows how its diagnosis comes about: first the base rates, then each thing known in turn, how the ranking moves and which chain of the graph carries it.',
    'With --why-not it says what speaks against one cause and what one would have to see.',
  ],
  arguments: [{ name: 'FILE', help: 'the case file, or - for standard input' }],
  options: {
    order: {
      value: 'FIELDS',
      help: 'what to enter first, by field and comma: findings.groove-look,scope; the rest follows in the usual order',
    },
    'why-not': { value: 'CAUSE', help: 'say why this cause does not stand higher' },
    ...JSON_OPTION,
    ...KNOWLEDGE_OPTION,
  },
  examples: [
    'peelpoint practice replay case.yaml',
    'peelpoint practice replay case.yaml --order scope --why-not nozzle-worn',
  ],
  run: async (given, terminal) => {
    const [file = ''] = given.arguments;
    const text = await readSource(file, terminal);
    const room = await openRoom(given);
    const { readCase } = await import('../../rules/case/case-file.js');
    const { itemsOf, replayCase, whyNot } = await import('../../rules/training/index.js');
    const reading = readCase(text, room.vocabulary);
    if (!reading.ok) throw new InputError(`${sourceName(file)} cannot be used`, reading.problems);
    const items = itemsOf(reading.case);
    const order = (optionText(given, 'order') ?? '')
      .split(',')
      .map((one) => one.trim())
      .filter((one) => one !== '')
      .map((one) => oneOf('--order', one, items, 'a field that this case has'));
    const cause = optionText(given, 'why-not');
    const why =
      cause === undefined
        ? undefined
        : await whyNot(
            room,
            reading.case,
            oneOf('--why-not', cause, [...room.reasoner.knowledge.book.causes.keys()], 'a cause'),
          );
    const steps = await replayCase(room, reading.case, order);
    if (given.options.has('json'))
      printJson(terminal, { steps, ...(why === undefined ? {} : { whyNot: why }) });
    else {
      const page = startPage(terminal);
      if (reading.case.title !== undefined) page.strong(reading.case.title);
      for (const [n, step] of steps.entries()) writeStep(page, step, n);
      if (why !== undefined) writeWhyNot(page, why);
      page.print();
    }
    return EXIT.done;
  },
};

const SHOWN = 3;

function writeStep(page: Page, step: ReplayStep, n: number): void {
  page.heading(`${n}. ${step.title}`);
  page.text(step.words, '   ');
  page.table(
    [
      { title: 'Cause', wraps: true },
      { title: 'Then', align: 'right' },
      { title: 'Decibans', align: 'right' },
    ],
    step.ranking
      .slice(0, SHOWN)
      .map((cause) => [cause.label, percent(cause.after), n === 0 ? '' : decibans(cause.decibans)]),
    '   ',
  );
  if (step.chain !== undefined) page.text(`Carried by: ${step.chain.words}`, { first: '   ', rest: '     ' });
  page.faint(`Search still expected: ${minutes(step.searchMinutes)}.`, '   ');
}

function writeWhyNot(page: Page, why: WhyNot): void {
  page.heading(`Why not “${why.label}”?`);
  page.text(why.words, '   ');
  const dot = { first: '   · ', rest: '     ' };
  for (const entry of why.against) page.text(`${entry.label}: ${decibans(entry.decibans)} decibans`, dot);
  for (const sign of why.missing)
    page.text(
      `It usually shows “${sign.label}” (${percent(sign.usual)}), which was looked for and not seen.`,
      dot,
    );
  for (const need of why.wouldNeed)
    page.text(`“${need.label}: ${need.outcome}” would raise it to ${percent(need.probability)}.`, dot);
}

import type { Marking } from '../../rules/training/index.js';
import { LEVEL_WORDS } from '../../rules/words.js';
import { type Command, JSON_OPTION, KNOWLEDGE_OPTION, printJson } from '../command.js';
import { EXIT } from '../errors.js';
import { minutes, percent } from '../layout/figures.js';
import { type Page, startPage } from '../layout/page.js';
import { readSource, sourceName } from '../source.js';
import { asInput, openRoom } from '../training/room.js';

/** `peelpoint practice mark`: an attempt, marked. */
export const practiceMark: Command = {
  name: 'practice mark',
  summary: 'mark what a trainee did on a practice case',
  about: [
    'Reads an attempt (the number of the case, or a case of your own with an answer key, and the moves made), makes the checks, tries the actions and marks every step on what could be known at that moment: minutes against the best way, checks that told nothing, how well the confidence was placed, unsafe steps, and what to do differently.',
    'Exits 1 when the case does not count as passed.',
  ],
  arguments: [{ name: 'FILE', help: 'the attempt, YAML or JSON, or - for standard input' }],
  options: { ...JSON_OPTION, ...KNOWLEDGE_OPTION },
  examples: ['peelpoint practice mark attempt.yaml'],
  run: async (given, terminal) => {
    const [file = ''] = given.arguments;
    const text = await readSource(file, terminal);
    const room = await openRoom(given);
    const { markAttempt, readAttempt } = await import('../../rules/training/index.js');
    const marking = await asInput(sourceName(file), async () => {
      const { dealt, attempt } = await readAttempt(room, text);
      return markAttempt(room, dealt, attempt);
    });
    if (given.options.has('json')) printJson(terminal, marking);
    else {
      const page = startPage(terminal);
      writeMarking(page, marking);
      page.print();
    }
    return marking.passed ? EXIT.done : EXIT.failed;
  },
};

/** Lays out a marked attempt. */
export function writeMarking(page: Page, marking: Marking): void {
  const dot = { first: '  · ', rest: '    ' };
  page.strong(marking.title);
  if (marking.trainee !== undefined) page.text(`Trainee: ${marking.trainee}`);
  page.text(marking.summary);
  page.heading('What it was');
  for (const cause of marking.truth) {
    page.strong(cause.label, '  ');
    page.text(cause.what, '  ');
  }
  page.heading('What to do differently');
  for (const [n, sentence] of marking.advice.entries())
    page.text(sentence, { first: `  ${n + 1}. `, rest: '     ' });
  if (marking.unsafe.length > 0) {
    page.heading('Not safe, or not sound');
    for (const sentence of marking.unsafe) page.text(sentence, dot);
  }
  page.heading('Checks');
  if (marking.checks.length === 0) page.text('None was made.', '  ');
  for (const [n, check] of marking.checks.entries()) {
    page.strong(`${check.label}: ${check.answer} (${minutes(check.minutes)})`, `  ${n + 1}. `);
    page.text(check.words, '     ');
    if (check.better !== undefined) page.text(`Better: ${check.better.label}. ${check.better.why}`, '     ');
  }
  page.heading('Causes put forward');
  for (const sentence of marking.proposal.words) page.text(sentence, dot);
  page.text(
    `Brier score ${marking.proposal.brier.toFixed(2)}, logarithmic score ${marking.proposal.log.toFixed(2)} (smaller is better); what the findings warranted scores ${marking.proposal.warrantedBrier.toFixed(2)} and ${marking.proposal.warrantedLog.toFixed(2)}.`,
    '  ',
  );
  if (marking.actions.length > 0) page.heading('Actions');
  for (const action of marking.actions) {
    page.strong(
      `${action.actions.map((one) => `${one.label} (chance of a cure ${percent(one.cures)})`).join(' and ')}, ${action.on === 'trial' ? 'on trial' : 'everywhere at once'}, ${minutes(action.minutes)}`,
      '  ',
    );
    page.text(action.words, '    ');
    for (const sign of action.signs)
      page.text(`${sign.label}: ${LEVEL_WORDS[sign.before]} → ${LEVEL_WORDS[sign.after]}`, {
        first: '    · ',
        rest: '      ',
      });
    for (const cost of action.costs) page.text(`It costs: ${cost}`, '    ');
  }
  page.heading('The best way from the same beginning');
  if (marking.best.way.length === 0) page.text('No check at all: the opening said enough.', '  ');
  for (const [n, step] of marking.best.way.entries())
    page.text(`${step.label}: ${step.answer} (${minutes(step.minutes)})`, `  ${n + 1}. `);
  page.text(`Then ${minutes(marking.best.search)} of search.`, '  ');
  if (marking.notes !== undefined) {
    page.heading('From the trainer');
    page.text(marking.notes, '  ');
  }
}

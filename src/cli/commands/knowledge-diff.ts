import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import type {
  CaseChange,
  CauseChange,
  ComparedCase,
  KnowledgeComparison,
} from '../../rules/workshop/compare-knowledge.js';
import { type Command, JSON_OPTION, printJson } from '../command.js';
import { existingKnowledgeFolder, openKnowledgeFolder } from '../engine.js';
import { EXIT } from '../errors.js';
import { percent } from '../layout/figures.js';
import { type Page, startPage } from '../layout/page.js';

/** `peelpoint knowledge diff`: what a change of the knowledge does to every case. */
export const knowledgeDiff: Command = {
  name: 'knowledge diff',
  summary: 'run all cases on two knowledge bases and tell what comes out differently',
  about: [
    'Runs every example beside a cause and every situation of the folder "cases" on both knowledge bases and tells which causes move by more than two points of probability or change places among the first five, and which expectations are met under one of the two only. It takes a minute or two.',
    'Exit code 1 when an expectation that held under OLD no longer holds under NEW.',
  ],
  arguments: [
    { name: 'OLD', help: 'folder of the knowledge base as it was' },
    { name: 'NEW', help: 'folder of the knowledge base as it is' },
  ],
  options: JSON_OPTION,
  examples: ['peelpoint knowledge diff ../before/knowledge-base ./knowledge-base'],
  run: async (given, terminal) => {
    const { compareKnowledge } = await import('../../rules/workshop/compare-knowledge.js');
    const [oldFolder = '', newFolder = ''] = given.arguments;
    const before = await openSide('OLD', oldFolder);
    const after = await openSide('NEW', newFolder);
    const comparison = await compareKnowledge(before, after);
    if (given.options.has('json')) printJson(terminal, comparison);
    else {
      const page = startPage(terminal);
      for (const change of comparison.changed) writeChange(page, change);
      writeTotals(page, comparison);
      page.print();
    }
    return comparison.broken === 0 ? EXIT.done : EXIT.failed;
  },
};

async function openSide(
  field: string,
  folder: string,
): Promise<{ readonly knowledge: Knowledge; readonly cases: readonly ComparedCase[] }> {
  const root = existingKnowledgeFolder(field, folder);
  const { casesToCompare } = await import('../../rules/workshop/compare-knowledge.js');
  const { loadVignettes } = await import('../../rules/knowledge/load-vignettes.js');
  const { vocabularyOf } = await import('../../rules/diagnosis/diagnose.js');
  const knowledge = await openKnowledgeFolder(root);
  const situations = existsSync(join(root, 'cases'))
    ? loadVignettes(root, knowledge.book, vocabularyOf(knowledge)).values()
    : [];
  return { knowledge, cases: casesToCompare(knowledge, situations) };
}

function writeChange(page: Page, change: CaseChange): void {
  page.heading(change.name);
  if (change.unreadable !== undefined)
    page.text(
      change.unreadable === 'both' ? 'cannot be read by either' : `cannot be read ${change.unreadable}`,
      '  ',
    );
  for (const { cause, is, after } of change.expectations)
    page.strong(`${after ? 'now met' : 'NO LONGER MET'}: ${cause} should be ${is}`, '  ');
  page.table(
    [{ title: '' }, { title: 'before', align: 'right' }, { title: 'after', align: 'right' }],
    change.causes.map((one) => [one.cause, sayPlace(one.before), sayPlace(one.after)]),
    '  ',
  );
}

const sayPlace = ({ rank, probability }: CauseChange['before']) =>
  rank === 0 ? 'not there' : `${percent(probability)} (no. ${rank})`;

function writeTotals(
  page: Page,
  { cases, changed, broken, mended, added, removed }: KnowledgeComparison,
): void {
  page.line();
  if (added.length > 0) page.text(`Causes added: ${added.join(', ')}.`);
  if (removed.length > 0) page.text(`Causes removed: ${removed.join(', ')}.`);
  page.strong(
    `${cases} cases, ${changed.length === 0 ? 'none changed' : `${changed.length} changed`}; expectations: ${broken} no longer met, ${mended} now met.`,
  );
}

import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { KnowledgeProblem } from '../knowledge/errors.js';
import type { Knowledge } from '../knowledge/knowledge.js';
import { openReader, readRuleBook } from '../knowledge/load.js';
import { lineFinder } from '../knowledge/yaml-file.js';
import { applyAcceptances } from './accepted-findings.js';
import { conditionPlaces } from './condition-places.js';
import { type FactWorld, factDomain } from './fact-domains.js';
import { compareFindings, type Draft, FINDING_CODES, type Finding } from './finding.js';
import { lintBooks } from './lint-books.js';
import { lintCases } from './lint-cases.js';
import { lintConditions } from './lint-conditions.js';
import { lintCoverage } from './lint-coverage.js';
import { graphOf, lintGraph } from './lint-graph.js';
import { lintRules } from './lint-rules.js';
import { lintSignatures } from './lint-signatures.js';
import { lintToDo } from './lint-to-do.js';
import { tryLoading } from './load-problems.js';

/**
 * Everything a keeper should know about a knowledge base: what keeps it from loading, mistakes in rules and graph, and
 * what is thin or unused. Findings that the base itself accepts carry the reason.
 *
 * What hangs on the whole graph is only looked at once the files load; conditions and rules are looked at in every
 * file that can be read.
 *
 * @param root folder of the knowledge base
 */
export function lintKnowledge(root: string): Finding[] {
  const place = linePlacer(root);
  const loaded = tryLoading(root);
  const drafts: (Draft & { line?: number })[] = [];
  if (loaded.knowledge === undefined)
    drafts.push(...loaded.problems.map(problemDraft), ...lintReadable(root));
  else
    drafts.push(
      ...lintLoaded(loaded.knowledge),
      ...lintCases(root, loaded.knowledge),
      ...lintBooks(root, loaded.knowledge).map(problemDraft),
    );
  if (existsSync(root)) drafts.push(...lintToDo(root));
  const findings = drafts.map((draft): Finding => {
    const { code, path, message, hint } = draft;
    const file = fileHolding(root, draft.file, path[0]);
    const line = draft.line ?? place(file, path);
    const at = line === undefined ? {} : { line };
    const field = path.join('.');
    return { severity: FINDING_CODES[code], code, file, ...at, field, message, hint };
  });
  return applyAcceptances(root, findings.sort(compareFindings), loaded.knowledge !== undefined);
}

function lintLoaded(knowledge: Knowledge): Draft[] {
  const { book, endUses, fibres } = knowledge;
  const graph = graphOf(book);
  const domainOf = domains({ book, fibres: [...fibres.keys()], endUses: [...endUses.keys()] });
  return [
    ...lintConditions(conditionPlaces(book, endUses), domainOf),
    ...lintRules(book, domainOf),
    ...lintGraph(book, graph),
    ...lintSignatures(book, graph),
    ...lintCoverage(knowledge),
  ];
}

/** Rules of the files that can be read, when the whole cannot be loaded. */
function lintReadable(root: string): Draft[] {
  const book = readRuleBook(openReader(root));
  const domainOf = domains({ book, fibres: [], endUses: [] });
  return lintRules(book, domainOf);
}

function domains(world: FactWorld) {
  const known = new Map<string, ReturnType<typeof factDomain>>();
  return (fact: string) => {
    if (!known.has(fact)) known.set(fact, factDomain(fact, world));
    return known.get(fact);
  };
}

function problemDraft(problem: KnowledgeProblem): Draft & { line?: number } {
  const between = problem.line === undefined && problem.field !== '' && problem.file.endsWith('.yaml');
  const circle = problem.message.startsWith('the links run in a circle');
  return {
    code: circle ? 'cycle' : between ? 'reference' : 'unreadable',
    file: problem.file,
    path: problem.field === '' ? [] : problem.field.split('.'),
    ...(problem.line === undefined ? {} : { line: problem.line }),
    message: problem.field === '' ? problem.message : `${problem.field}: ${problem.message}`,
    hint: circle
      ? 'Take the weakest link of the circle out.'
      : between
        ? 'Write the missing thing, or correct the id.'
        : 'Write the field as the schema asks ("peelpoint knowledge schema" writes it out for editors).',
  };
}

/** The file of a folder whose files together map ids to things (sources, model) that holds an id. */
function fileHolding(root: string, file: string, id: PropertyKey | undefined): string {
  if (file.endsWith('.yaml') || typeof id !== 'string' || !existsSync(join(root, file))) return file;
  const holder = readdirSync(join(root, file)).find(
    (name) =>
      name.endsWith('.yaml') && `\n${readFileSync(join(root, file, name), 'utf8')}`.includes(`\n${id}:`),
  );
  return holder === undefined ? file : `${file}/${holder}`;
}

/** Looks up the line of a field; each file is parsed once. */
function linePlacer(root: string) {
  const finders = new Map<string, ReturnType<typeof lineFinder>>();
  return (file: string, path: readonly PropertyKey[]): number | undefined => {
    if (!file.endsWith('.yaml')) return undefined;
    let find = finders.get(file);
    if (find === undefined) {
      const full = join(root, file);
      find = existsSync(full) ? lineFinder(readFileSync(full, 'utf8')) : () => undefined;
      finders.set(file, find);
    }
    return find(path);
  };
}

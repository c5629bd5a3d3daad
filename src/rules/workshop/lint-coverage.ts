import type { Knowledge } from '../knowledge/knowledge.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import type { Draft } from './finding.js';

/** Range in which the base rates of all causes should sum: causes per frame in trouble. */
const BASE_RATES = [1, 1.6] as const;

/** Things nobody uses, causes without examples, and base rates that do not add up. */
export function lintCoverage(knowledge: Pick<Knowledge, 'book' | 'endUses' | 'parameters'>): Draft[] {
  const { book } = knowledge;
  return [...lintExamples(book), ...lintBaseRates(book), ...lintUse(knowledge)];
}

function lintExamples(book: RuleBook): Draft[] {
  return [...book.causes.values()].flatMap((cause): Draft[] => {
    const say = (message: string): Draft => ({
      code: 'no-examples',
      file: `causes/${cause.id}.yaml`,
      path: ['examples'],
      message,
      hint: 'Write a case in which the cause must lead and one in which it must be as good as excluded.',
    });
    const examples = cause.examples ?? [];
    if (examples.length === 0) return [say(`cause "${cause.id}" has no examples`)];
    // That chance is at work can be said of a case, but hardly ever that it is not.
    if (cause.family === 'chance') return [];
    const leads = examples.some((one) => one.expect === 'first' || one.expect === 'first-three');
    const falls = examples.some((one) => one.expect === 'below-2-percent');
    return [
      ...(leads ? [] : [say(`cause "${cause.id}" has no example in which it leads`)]),
      ...(falls ? [] : [say(`cause "${cause.id}" has no example in which it is below 2 %`)]),
    ];
  });
}

function lintBaseRates(book: RuleBook): Draft[] {
  const sum = [...book.causes.values()].reduce((total, cause) => total + cause.prior.base, 0);
  const [least, most] = BASE_RATES;
  return sum >= least && sum <= most
    ? []
    : [
        {
          code: 'base-rates',
          file: 'causes',
          path: [],
          message: `the base rates of all causes sum to ${sum.toFixed(2)}; a frame in trouble has ${least} to ${most} causes on average`,
          hint: 'Scale the base rates; what counts is how they compare.',
        },
      ];
}

function lintUse({ book, endUses, parameters }: Pick<Knowledge, 'book' | 'endUses' | 'parameters'>): Draft[] {
  const actions = new Set([...book.causes.values()].flatMap((cause) => cause.actions.map((one) => one.do)));
  const cautions = new Set([
    ...[...book.causes.values()].flatMap((cause) => cause.cautions ?? []),
    ...[...book.checks.values()].flatMap((check) => check.cautions ?? []),
    ...[...book.actions.values()].flatMap((action) => action.cautions),
    ...[...book.cautions].filter(([, caution]) => caution.when !== undefined).map(([id]) => id),
  ]);
  const sources = namedSources([book, [...endUses.values()], parameters]);
  return [
    ...[...book.actions.keys()]
      .filter((id) => !actions.has(id))
      .map(
        (id): Draft => ({
          code: 'unused-action',
          file: `actions/${id}.yaml`,
          path: [],
          message: `no cause names action "${id}"`,
          hint: 'Name it in the causes it removes, or take it out.',
        }),
      ),
    ...[...book.cautions.keys()]
      .filter((id) => !cautions.has(id))
      .map(
        (id): Draft => ({
          code: 'unused-caution',
          file: 'cautions.yaml',
          path: [id],
          message: `nothing raises caution "${id}"`,
          hint: 'Name it where it is due.',
        }),
      ),
    ...[...book.sources.keys()]
      .filter((id) => !sources.has(id))
      .map(
        (id): Draft => ({
          code: 'unused-source',
          file: 'sources',
          path: [id],
          message: `no statement cites source "${id}"`,
          hint: 'Cite it where a statement rests on it, or take it out.',
        }),
      ),
  ];
}

/** Values of every field called `source` in nested data. */
function namedSources(data: unknown): Set<string> {
  const found = new Set<string>();
  const visit = (value: unknown): void => {
    if (value instanceof Map) for (const one of value.values()) visit(one);
    else if (Array.isArray(value)) value.forEach(visit);
    else if (typeof value === 'object' && value !== null)
      for (const [key, one] of Object.entries(value)) {
        if (key === 'source' && typeof one === 'string') found.add(one);
        else visit(one);
      }
  };
  visit(data);
  return found;
}

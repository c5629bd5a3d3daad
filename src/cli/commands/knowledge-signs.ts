import type { SignTotals, SignVerdict } from '../../rules/workshop/signs.js';
import { type Command, JSON_OPTION, KNOWLEDGE_OPTION, printJson } from '../command.js';
import { openKnowledge } from '../engine.js';
import { EXIT, InputError, shorten } from '../errors.js';
import { startPage } from '../layout/page.js';
import { readSource, sourceName } from '../source.js';

/** `peelpoint knowledge signs`: published directions held against the product. */
export const knowledgeSigns: Command = {
  name: 'knowledge signs',
  summary: 'hold published directions of effects against model and graph',
  about: [
    'Reads records of what publications say: a setting was moved from one level to another, and a response went up, went down, stayed, or has an optimum between. The spinning model says what it computes on the usual setup for the fibre and count; where it does not compute the response, the causal graph says what a setting that is too low or too high brings about; where neither speaks, the product is silent.',
    'A record is one line of JSON with id, source, provenance (read or memory), fibre, count_tex, setting, from, to, response and direction. Records from memory are never shown with their source. Exit code 1 when there are disagreements.',
  ],
  arguments: [{ name: 'FILE', help: 'records as lines of JSON or one JSON list; - for standard input' }],
  options: { ...JSON_OPTION, ...KNOWLEDGE_OPTION },
  examples: ['peelpoint knowledge signs findings.jsonl'],
  run: async (given, terminal) => {
    const { readRecords } = await import('../../rules/workshop/published-record.js');
    const { countSigns, predictSigns } = await import('../../rules/workshop/signs.js');
    const [file = ''] = given.arguments;
    const text = await readSource(file, terminal);
    const { records, problems } = readRecords(text);
    if (problems.length > 0)
      throw new InputError(
        `${sourceName(file)} cannot be used`,
        problems.map(({ line, message }) => ({
          field: 'record',
          value: shorten(text.split('\n')[line - 1] ?? ''),
          message,
          allowed: [],
          line,
        })),
      );
    const verdicts = predictSigns(await openKnowledge(given), records);
    const { settings, all } = countSigns(verdicts);
    if (given.options.has('json'))
      printJson(terminal, { all, settings, records: verdicts.map(plainVerdict) });
    else {
      const page = startPage(terminal);
      const columns = ['Setting', 'agree', 'disagree', 'silent'].map((title, i) =>
        i === 0 ? { title } : { title, align: 'right' as const },
      );
      const row = (one: SignTotals) => [
        one.setting,
        ...[one.agree, one.disagree, one.silent].map((number) => String(number)),
      ];
      page.table(columns, [...settings.map(row), row(all)]);
      const against = verdicts.filter((one) => one.verdict === 'disagree');
      if (against.length > 0) page.heading('Disagreements');
      for (const one of against) {
        const { record, product, by, why } = one;
        page.text(
          `${record.id}: ${record.setting}, ${record.from} → ${record.to}: ${record.response} ${sayDirection(record.direction)}; the ${by} says ${sayDirection(product)} (${why}).`,
        );
        page.faint(sourceOf(one), '    ');
      }
      page.print();
    }
    return all.disagree === 0 ? EXIT.done : EXIT.failed;
  },
};

const sayDirection = (direction: SignVerdict['product']) =>
  ({ up: 'rises', down: 'falls', none: 'no effect', optimum: 'an optimum between', silent: 'nothing' })[
    direction
  ];

/** What was not read is no citation. */
const sourceOf = ({ record }: SignVerdict) =>
  record.provenance === 'memory'
    ? 'from memory, no citation'
    : [record.source, record.address].filter((part) => typeof part === 'string').join(', ');

function plainVerdict(one: SignVerdict) {
  const { record, product, by, verdict, why } = one;
  return {
    id: record.id,
    source: sourceOf(one),
    provenance: record.provenance,
    setting: record.setting,
    response: record.response,
    published: record.direction,
    product,
    by,
    verdict,
    why,
  };
}

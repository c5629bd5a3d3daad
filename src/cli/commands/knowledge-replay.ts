import type { Journal, KeptReplay, VersionReplay } from '../../journal/index.js';
import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import { type Command, JSON_OPTION, KNOWLEDGE_OPTION, optionText, printJson } from '../command.js';
import { existingKnowledgeFolder, openKnowledge, openKnowledgeFolder } from '../engine.js';
import { EXIT, InputError } from '../errors.js';
import { DATA_OPTION, placeOf, withPresentJournal } from '../journal/place.js';
import { percent } from '../layout/figures.js';
import { startPage } from '../layout/page.js';
import type { Terminal } from '../terminal.js';

/** `peelpoint knowledge replay`: how changed files would do on the closed cases. */
export const knowledgeReplay: Command = {
  name: 'knowledge replay',
  summary: 'try the knowledge base on the closed cases of the journal',
  about: [
    'Runs the closed cases whose cause was proved through the version of the knowledge that is in use and through the files, as a running server does before it takes changed files over, and prints how both do. Nothing is changed, and nothing is written into the journal.',
    'Exit code 1 when the files do worse than is let pass (judgements.yaml of the version in use): a server would hold them back.',
  ],
  arguments: [],
  options: {
    ...DATA_OPTION,
    ...KNOWLEDGE_OPTION,
    against: {
      value: 'DIR',
      help: 'hold the files against the knowledge base in this folder instead of the version in use',
    },
    ...JSON_OPTION,
  },
  examples: [
    'peelpoint knowledge replay --data /srv/mill --knowledge ./knowledge-base',
    'peelpoint knowledge replay --against ../before/knowledge-base --json',
  ],
  run: async (given, terminal) => {
    const after = await openKnowledge(given);
    const against = optionText(given, 'against');
    const folder = against === undefined ? undefined : existingKnowledgeFolder('--against', against);
    return withPresentJournal(placeOf(given), async (journal) => {
      const before = folder === undefined ? await versionInUse(journal) : await openKnowledgeFolder(folder);
      const { proveVersion, toleranceOf } = await import('../../server/journal/prove.js');
      const { casesThatGotWorse, whyHeld } = await import('../../journal/index.js');
      const replay = await proveVersion(journal, before, after, (done, of) => {
        if (done > 0 && done % 25 === 0) terminal.err(`${done} of ${of} cases\n`);
      });
      const reasons = whyHeld(replay, toleranceOf(before));
      const worse = casesThatGotWorse(replay.cases);
      const versions = { before: before.version, after: after.version };
      if (given.options.has('json'))
        printJson(terminal, { versions, ...replay, worse, heldBecause: reasons });
      else await print(terminal, versions, replay, worse, reasons);
      return reasons.length === 0 ? EXIT.done : EXIT.failed;
    });
  },
};

/** The version in use, from the texts that the journal keeps of it. */
async function versionInUse(journal: Journal): Promise<Knowledge> {
  const { knowledgeInUse } = await import('../../journal/index.js');
  const { loadKnowledge } = await import('../../rules/knowledge/load-knowledge.js');
  const { KnowledgeError } = await import('../../rules/knowledge/errors.js');
  const inUse = await knowledgeInUse(journal);
  const advice = 'Name a knowledge base to hold the files against with --against.';
  if (inUse?.texts === undefined)
    throw new InputError('the journal knows of no version in use: no server has worked with it', [], advice);
  try {
    return loadKnowledge(inUse.texts);
  } catch (error) {
    if (!(error instanceof KnowledgeError)) throw error;
    throw new InputError(`version ${inUse.id}, which is in use, cannot be read any more`, [], advice);
  }
}

async function print(
  terminal: Terminal,
  versions: { readonly before: string; readonly after: string },
  replay: VersionReplay,
  worse: VersionReplay['cases'],
  reasons: readonly string[],
): Promise<void> {
  const { saySample } = await import('../../server/views/journal/knowledge-versions.js');
  const tried = replay.cases.length;
  const page = startPage(terminal);
  page.heading(`Version ${versions.after} against ${versions.before}`);
  page.text(
    `Tried on ${saySample({ ...replay, tried, unread: replay.unreadable.length } satisfies Pick<KeptReplay, 'tried' | 'closed' | 'sample' | 'unread'>)}.`,
  );
  if (tried > 0) {
    const share = (count: number) => `${count} of ${tried} (${percent(count / tried)})`;
    const score = (value: number) => value.toFixed(3);
    page.table(
      [{ title: '' }, { title: 'before', align: 'right' }, { title: 'after', align: 'right' }],
      [
        ['proved cause ranked first', share(replay.first.before), share(replay.first.after)],
        ['among the first three', share(replay.firstThree.before), share(replay.firstThree.after)],
        ['mean log score', score(replay.logScore.before), score(replay.logScore.after)],
        ['Brier score', score(replay.brier.before), score(replay.brier.after)],
      ],
    );
    const place = (found: (typeof worse)[number]['before']) =>
      found === null ? 'not there' : `${found.place}. (${percent(found.probability)})`;
    if (worse.length > 0) {
      page.heading(`${worse.length} got worse`);
      page.table(
        [
          { title: 'case' },
          { title: 'proved cause' },
          { title: 'before', align: 'right' },
          { title: 'after', align: 'right' },
        ],
        worse.slice(0, 40).map((one) => [one.id, one.cause, place(one.before), place(one.after)]),
      );
    }
  }
  page.line();
  page.strong(
    reasons.length === 0
      ? 'No worse than is let pass: a server takes it over by itself.'
      : `Worse: ${reasons.join('; ')}. A server holds it back until somebody accepts it.`,
  );
  page.print();
}

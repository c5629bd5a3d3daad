import type { CautionText } from '../diagnosis/types.js';
import { CARD_PATHS, type CardBook, cardSchema } from '../knowledge/card-schema.js';
import { KnowledgeError } from '../knowledge/errors.js';
import type { Knowledge } from '../knowledge/knowledge.js';
import type { KnowledgeFiles } from '../knowledge/knowledge-files.js';
import { openReader, readOne } from '../knowledge/load.js';
import { defaultKnowledgeFolder } from '../knowledge/load-knowledge.js';
import { allInSentence } from '../words.js';
import type { PlanReport } from './types.js';

/** A line of the setup card. */
export interface CardRow {
  readonly path: string;
  readonly label: string;
  readonly value: string;
  /** Value before, where the plan changes it. */
  readonly was?: string;
  readonly why: string;
  readonly tolerance: string;
  readonly watch: string;
  /** Nobody said it: to be looked at on the frame before the card hangs there. */
  readonly assumed: boolean;
}

/** What hangs on the frame: one page. */
export interface SetupCard {
  readonly title: string;
  readonly yarn: string;
  readonly rows: readonly CardRow[];
  readonly cautions: readonly CautionText[];
}

/** Cautions every card carries. */
const ALWAYS = ['manual-first', 'rotor-coasts', 'do-not-mix-parts', 'rated-speed'];

let kept: CardBook | undefined;

/** The one supplied, read once. */
function shipped(): CardBook {
  kept ??= readCardBook(defaultKnowledgeFolder());
  return kept;
}

/**
 * Reads `card.yaml` of a knowledge base; the one supplied is read once.
 * @throws KnowledgeError with file, line and field of every problem
 */
export function loadCardBook(root?: KnowledgeFiles): CardBook {
  return root === undefined ? shipped() : readCardBook(root);
}

function readCardBook(root: KnowledgeFiles): CardBook {
  const reader = openReader(root);
  const card = readOne(reader, 'card.yaml', cardSchema);
  if (card === undefined) throw new KnowledgeError(reader.problems);
  return card;
}

/**
 * The setup card of a frame: every setting with why, tolerance and what to watch. What a plan changes says what it was
 * and why the plan changes it.
 *
 * @param planned show the recommended plan's values; else those in force
 */
export function makeCard(
  report: PlanReport,
  knowledge: Knowledge,
  options: { readonly title: string; readonly planned: boolean; readonly book?: CardBook },
): SetupCard {
  const book = options.book ?? loadCardBook();
  const settings = new Map(report.setup.map((one) => [one.path, one]));
  const steps = new Map(
    report.steps.flatMap((step) => step.settings.map((setting) => [setting as string, step] as const)),
  );
  const stepFor = (path: string) => steps.get(SETTING_OF[path] ?? '');
  const rows = CARD_PATHS.flatMap((path): CardRow[] => {
    const setting = settings.get(path);
    if (setting === undefined) return [];
    const moved = options.planned && setting.changed;
    const step = moved ? stepFor(path) : undefined;
    return [
      {
        path,
        label: setting.label,
        value: options.planned ? setting.planned : setting.now,
        ...(moved ? { was: setting.now } : {}),
        // Of a step's reasons the first sentence; the figures belong to the plan.
        why: step === undefined ? book[path].why : (step.why.match(/^.*?\.(?= |$)/)?.[0] ?? step.why),
        tolerance: book[path].tolerance,
        watch: step === undefined ? book[path].watch : step.measure.join('; '),
        assumed: setting.assumed && !moved,
      },
    ];
  });
  const wanted = new Set([...ALWAYS, ...(options.planned ? report.cautions.map((one) => one.id) : [])]);
  const fibre = settings.get('fibre')?.now ?? '';
  const count = settings.get('count')?.now ?? '';
  return {
    title: options.title,
    yarn: `${fibre}, ${count}, ${allInSentence(report.endUse)}`,
    rows,
    cautions: [...knowledge.book.cautions]
      .filter(([id]) => wanted.has(id))
      .map(([id, caution]) => ({ id, text: caution.text })),
  };
}

const SETTING_OF: Readonly<Record<string, string>> = {
  twist: 'twist',
  'rotor.speed': 'rotor-speed',
  'nozzle.surface': 'texture',
  'nozzle.material': 'nozzle-material',
  'nozzle.radius': 'nozzle-radius',
  'nozzle.protrusion': 'nozzle-protrusion',
  'tube.bend': 'tube-bend',
  'tube.insert': 'insert',
};

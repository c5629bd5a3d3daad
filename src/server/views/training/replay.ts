import type { MessageKey } from '../../../language/say.js';
import { say } from '../../../language/say.js';
import type { CaseInput } from '../../../rules/case/types.js';
import type { ChainStep } from '../../../rules/index.js';
import type { ReplayStep, TrainingRoom, WhyNot } from '../../../rules/training/index.js';
import type { HiddenField } from '../../../templates/models.js';
import type { HandoutPage, ReplayPage } from '../../../templates/training-models.js';
import { drawYarnPath } from '../../pictures/yarn-path.js';
import { findTerms } from '../../training/term-words.js';
import { sayDecibans, sayMinutes, sayPercent } from '../../words.js';
import { describeSetup } from '../setup-line.js';

const KINDS = {
  setting: 'replay.kind-setting',
  cause: 'replay.kind-cause',
  mechanism: 'replay.kind-mechanism',
  symptom: 'replay.kind-symptom',
  finding: 'replay.kind-finding',
} as const satisfies Record<ChainStep['kind'], MessageKey>;

/** Where a replay comes from and how its pages are addressed. */
export interface ReplayPlace {
  readonly title: string;
  /** What a reader must know of the case; empty for nothing. */
  readonly note: string;
  /** The address of a step; `more` fields replace those of the present page. */
  href(more: Readonly<Record<string, string>>): string;
  readonly handoutHref: string;
  readonly projector: boolean;
  /** Address of the drawing with a cause marked, without its layout. */
  drawingHref(cause: string): string;
  /** Fields of a form that stays in the replay. */
  readonly hidden: readonly HiddenField[];
  /** What is entered first, if somebody chose. */
  readonly first: string;
}

/** One step of a replay. */
export function viewReplay(
  room: TrainingRoom,
  steps: readonly ReplayStep[],
  at: number,
  place: ReplayPlace,
  why: WhyNot | undefined,
): ReplayPage {
  const step = steps[at] ?? steps[0];
  if (step === undefined) throw new Error('a replay has at least one step');
  const terms = findTerms(room.material.glossary);
  const last = steps.length - 1;
  return {
    title: place.title,
    note: place.note,
    heading: step.title,
    step: say('replay.step', { n: at, of: last }),
    projector: place.projector,
    words: terms.explain(step.words),
    ranking: step.ranking.map((cause) => ({
      label: cause.label,
      probability: cause.after,
      percent: sayPercent(cause.after),
      moved: at === 0 || Math.abs(cause.decibans) < 0.05 ? '' : sayDecibans(cause.decibans),
      whyHref: place.href({ step: String(at), why: cause.cause }),
    })),
    chain: (step.chain?.steps ?? []).map((one) => ({
      kind: say(KINDS[one.kind]),
      label: one.label,
      why: one.link?.why ?? '',
    })),
    path: drawYarnPath(step.place),
    drawing:
      step.concerns === undefined
        ? undefined
        : {
            wide: `${place.drawingHref(step.concerns)}&layout=wide`,
            tall: place.drawingHref(step.concerns),
            title: say('replay.acts', {
              cause: room.reasoner.knowledge.book.causes.get(step.concerns)?.label ?? step.concerns,
            }),
            words: '',
            compared: '',
          },
    search: say('replay.search', { time: sayMinutes(step.searchMinutes) }),
    back: at > 0 ? place.href({ step: String(at - 1) }) : '',
    next: at < last ? place.href({ step: String(at + 1) }) : '',
    projectorHref: place.href({ step: String(at), view: place.projector ? '' : 'projector' }),
    handoutHref: place.handoutHref,
    steps: steps.map((one, n) => ({
      href: place.href({ step: String(n) }),
      title: one.title,
      current: n === at,
    })),
    firstHidden: place.hidden,
    firstOptions: steps.slice(1).map((one) => ({
      id: one.item ?? '',
      value: one.item ?? '',
      label: one.title,
      chosen: one.item === place.first,
    })),
    why:
      why === undefined
        ? undefined
        : {
            label: why.label,
            words: why.words,
            against: why.against.map((entry) =>
              say('replay.speaks', { what: entry.label, n: sayDecibans(entry.decibans) }),
            ),
            missing: why.missing.map((sign) =>
              say('replay.usually', { sign: sign.label, chance: sayPercent(sign.usual) }),
            ),
            needs: why.wouldNeed.map((need) =>
              say('replay.raise', {
                check: need.label,
                answer: need.outcome,
                chance: sayPercent(need.probability),
              }),
            ),
          },
  };
}

/** All steps of a replay on one page, for print. */
export function viewHandout(
  steps: readonly ReplayStep[],
  input: CaseInput,
  title: string,
  backHref: string,
): HandoutPage {
  return {
    title,
    setup: describeSetup(input.given),
    backHref,
    steps: steps.map((step, n) => ({
      title: step.title,
      words: step.words,
      ranking: step.ranking.slice(0, 3).map((cause) => ({
        label: cause.label,
        percent: sayPercent(cause.after),
        moved: n === 0 || Math.abs(cause.decibans) < 0.05 ? '' : sayDecibans(cause.decibans),
      })),
      chain: step.chain?.words ?? '',
    })),
  };
}

import type { MessageKey } from '../../../language/say.js';
import { say } from '../../../language/say.js';
import type { Action, Cause } from '../../../rules/knowledge/schema.js';
import { FAMILIES, type Family, type Part } from '../../../rules/knowledge/vocabulary.js';
import {
  checkMinutes,
  LEVELS_OF_PRACTICE,
  needsStandstill,
  PART_EXCHANGE,
  type PlayedCase,
  type PlayedMove,
  type PracticeCase,
  type TrainingRoom,
} from '../../../rules/training/index.js';
import { inSentence, joinWords, LEVEL_WORDS, PART_WORDS, STOP_WORDS } from '../../../rules/words.js';
import type { OptionView } from '../../../templates/models.js';
import type { PracticePage } from '../../../templates/training-models.js';
import { PROPOSAL_ROWS, readProposal } from '../../training/practice-form.js';
import { type PracticeState, placeFields, writeMove } from '../../training/practice-state.js';
import { sayMinutes } from '../../words.js';
import { viewBefore, viewCard, viewKnown } from './card.js';

const GROUPS = [
  { id: 'running', title: 'practice.group-look', stops: ['none'] },
  { id: 'opened', title: 'practice.group-open', stops: ['position', 'section', 'frame'] },
  { id: 'laboratory', title: 'practice.group-laboratory', stops: ['lab'] },
] as const;

const ACTION_KINDS = {
  setting: 'practice.kind-setting',
  part: 'practice.kind-part',
  clean: 'practice.kind-clean',
  repair: 'practice.kind-repair',
  material: 'practice.kind-material',
  organise: 'practice.kind-organise',
  observe: 'practice.kind-observe',
} as const satisfies Record<Action['kind'], MessageKey>;

/**
 * The page of a case under way: what is known, what was done with its answers, and what can be done next. Nothing on
 * it tells of the hidden truth but the answers asked for.
 *
 * @param draft what was typed into a form that has to be mended; `wrong` names the form
 */
export function viewPractice(
  room: TrainingRoom,
  dealt: PracticeCase,
  state: PracticeState,
  played: PlayedCase,
  draft: Readonly<Record<string, string>>,
): PracticePage {
  const { knowledge } = room.reasoner;
  const { book, judgements } = knowledge;
  const { spent } = played;
  const moves = tellMoves(room, played.moves);
  const open = played.open.flatMap((id) => book.checks.get(id) ?? []);
  const proposing = draft.wrong === 'propose';
  const { problems } = proposing ? readProposal(draft) : { problems: {} as Record<number, string> };
  const actionError = draft.wrong === 'act' ? say('practice.choose-action') : '';
  const absent = Object.entries(dealt.input.observations)
    .filter(([, level]) => level === 'absent')
    .map(([id]) => book.symptoms.get(id)?.label ?? id);
  const signOrder = { marked: 0, slight: 1, absent: 2 };
  return {
    title: dealt.title,
    back:
      state.course === undefined
        ? { href: '/training', text: say('training.room') }
        : { href: `/training/courses/${state.course.id}`, text: say('practice.course') },
    level:
      state.number === undefined
        ? say('practice.trainers')
        : state.number.mixed === true
          ? say('practice.unsaid')
          : LEVELS_OF_PRACTICE[state.number.level],
    errors: {
      items: [
        ...Object.entries(problems).map(([row, text]) => ({ href: `#cause-${row}`, text, allowed: '' })),
        ...(actionError === '' ? [] : [{ href: '#action-1', text: actionError, allowed: '' }]),
      ],
    },
    hidden: [
      { name: 'case', value: state.code },
      ...Object.entries(placeFields(state)).map(([name, value]) => ({ name, value })),
      ...state.moves.map((move) => ({ name: 'm', value: writeMove(move) })),
      ...(state.trainee === '' ? [] : [{ name: 'trainee', value: state.trainee }]),
    ],
    card: [...viewCard(dealt.input.given, knowledge), ...viewBefore(dealt.input.before, knowledge)],
    known: viewKnown(dealt.input, book),
    seen: Object.entries(dealt.input.observations)
      .filter(([, level]) => level !== 'absent')
      .sort(([, a], [, b]) => signOrder[a] - signOrder[b])
      .map(([id, level]) => ({ label: book.symptoms.get(id)?.label ?? id, level: LEVEL_WORDS[level] })),
    notSeen: absent.length === 0 ? '' : joinWords(absent.map(inSentence), 'or'),
    minutes: spent === 0 ? say('practice.no-minute') : say('practice.spent', { time: sayMinutes(spent) }),
    moves,
    groups: GROUPS.map((group, n) => ({
      id: group.id,
      title: say(group.title),
      open: n === 0 && moves.length === 0,
      standstill: group.id === 'opened',
      checks: [
        ...open
          .filter((check) => (group.stops as readonly string[]).includes(check.stops))
          .map((check) => ({
            value: check.id,
            label: check.label,
            ask: check.ask,
            effort: `${sayMinutes(checkMinutes(check, judgements))}${check.stops === 'none' || check.stops === 'lab' ? '' : `, ${STOP_WORDS[check.stops]}`}`,
          })),
        ...(group.id === 'opened' ? exchangeChecks(room, played.parts) : []),
      ],
    })).filter((group) => group.checks.length > 0),
    proposals: PROPOSAL_ROWS.map((row) => ({
      row,
      causes: causeOptions([...book.causes.values()], (proposing ? draft[`cause.${row}`] : '') ?? ''),
      confidence: (proposing ? draft[`confidence.${row}`] : '') ?? '',
      error: problems[row] ?? '',
    })),
    actions: actionOptions([...book.actions.values()]),
    actionError,
    canClose: state.moves.some((move) => 'propose' in move),
  };
}

type ToldMove = PracticePage['moves'][number];

/** What came of a move, in words. */
function tellMove(room: TrainingRoom, move: PlayedMove): Omit<ToldMove, 'n' | 'latest'> {
  const { book } = room.reasoner.knowledge;
  switch (move.kind) {
    case 'check': {
      const check = book.checks.get(move.check);
      const opened = check !== undefined && needsStandstill(check);
      const label = check?.label ?? move.check;
      return {
        title: move.part === undefined ? label : `${label}: ${PART_WORDS[move.part]}`,
        result: check?.outcomes[move.outcome]?.label ?? move.outcome,
        details: opened && move.standstill ? [say('practice.at-standstill')] : [],
        minutes: sayMinutes(move.minutes),
      };
    }
    case 'propose':
      return {
        title: say('practice.causes-put'),
        result: Object.entries(move.propose)
          .map(([id, confidence]) => `${book.causes.get(id)?.label ?? id}, ${Math.round(100 * confidence)} %`)
          .join('; '),
        details: [],
        minutes: '',
      };
    case 'act':
      return {
        title: `${joinWords(move.actions.map((id) => book.actions.get(id)?.label ?? id))}, ${move.on === 'everywhere' ? say('practice.at-once') : say('practice.as-trial')}`,
        result: move.signs.every((sign) => sign.before === sign.after)
          ? say('practice.taken-back')
          : say('practice.kept'),
        details: move.signs.map(
          (sign) =>
            `${book.symptoms.get(sign.symptom)?.label ?? sign.symptom}: ${LEVEL_WORDS[sign.before]} → ${LEVEL_WORDS[sign.after]}`,
        ),
        minutes: '',
      };
  }
}

const tellMoves = (room: TrainingRoom, moves: readonly PlayedMove[]): ToldMove[] =>
  moves.map((move, i) => ({ ...tellMove(room, move), n: i + 1, latest: i === moves.length - 1 }));

/** Exchanging a part is one check for each part it can be done with. */
function exchangeChecks(room: TrainingRoom, parts: readonly Part[]) {
  const { book, judgements } = room.reasoner.knowledge;
  const check = book.checks.get(PART_EXCHANGE);
  if (check === undefined) return [];
  return parts.map((part) => ({
    value: `${check.id}.${part}`,
    label: say('practice.another', { part: PART_WORDS[part] }),
    ask: check.ask,
    effort: `${sayMinutes(checkMinutes(check, judgements))}, ${STOP_WORDS[check.stops]}`,
  }));
}

function causeOptions(causes: readonly Cause[], chosen: string): PracticePage['proposals'][number]['causes'] {
  return (Object.keys(FAMILIES) as Family[])
    .map((family) => ({
      family: FAMILIES[family],
      options: causes
        .filter((cause) => cause.family === family)
        .map((cause): OptionView => option(cause.id, cause.label, chosen)),
    }))
    .filter((group) => group.options.length > 0);
}

function actionOptions(actions: readonly Action[]): PracticePage['actions'] {
  return (Object.keys(ACTION_KINDS) as Action['kind'][])
    .map((kind) => ({
      kind: say(ACTION_KINDS[kind]),
      options: actions
        .filter((action) => action.kind === kind)
        .map((action): OptionView => option(action.id, action.label, '')),
    }))
    .filter((group) => group.options.length > 0);
}

const option = (value: string, label: string, chosen: string): OptionView => ({
  id: value,
  value,
  label,
  chosen: value === chosen,
});

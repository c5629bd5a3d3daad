import type { Action, Cause } from '../../../rules/knowledge/schema.js';
import { FAMILIES, type Family } from '../../../rules/knowledge/vocabulary.js';
import {
  answerCheck,
  canAsk,
  checkMinutes,
  LEVELS_OF_PRACTICE,
  type Move,
  needsStandstill,
  type PracticeCase,
  type TrainingRoom,
  tryActions,
  withFinding,
} from '../../../rules/training/index.js';
import { joinWords, LEVEL_WORDS, STOP_WORDS } from '../../../rules/words.js';
import type { OptionView } from '../../../templates/models.js';
import type { PracticePage } from '../../../templates/training-models.js';
import { PROPOSAL_ROWS, readProposal } from '../../training/practice-form.js';
import { type PracticeState, writeMove } from '../../training/practice-state.js';
import { sayMinutes } from '../../words.js';
import { viewBefore, viewCard, viewKnown } from './card.js';

const GROUPS = [
  { id: 'running', title: 'Look and ask; nothing stops', stops: ['none'] },
  { id: 'opened', title: 'Open a position', stops: ['position', 'section', 'frame'] },
  { id: 'laboratory', title: 'Send to the laboratory', stops: ['lab'] },
] as const;

const ACTION_KINDS: Readonly<Record<Action['kind'], string>> = {
  setting: 'Settings',
  part: 'Parts',
  clean: 'Cleaning',
  repair: 'Repairs',
  material: 'Material',
  organise: 'Organisation',
  observe: 'Watch on',
};

/**
 * The page of a case under way: what is known, what was done with its answers, and what can be done next. Nothing on
 * it tells of the hidden truth but the answers asked for.
 *
 * @param draft what was typed into a form that has to be mended; `wrong` names the form
 */
export async function viewPractice(
  room: TrainingRoom,
  dealt: PracticeCase,
  state: PracticeState,
  draft: Readonly<Record<string, string>>,
): Promise<PracticePage> {
  const { knowledge } = room.reasoner;
  const { book, judgements } = knowledge;
  const { moves, input, spent } = await playMoves(room, dealt, state.moves);
  const standing = await room.weigh(input);
  const open = [...book.checks.values()].filter((check) => canAsk(room, standing, check));
  const proposing = draft.wrong === 'propose';
  const { problems } = proposing ? readProposal(draft) : { problems: {} as Record<number, string> };
  const actionError = draft.wrong === 'act' ? 'Choose at least one action.' : '';
  const absent = Object.entries(dealt.input.observations)
    .filter(([, level]) => level === 'absent')
    .map(([id]) => book.symptoms.get(id)?.label ?? id);
  const signOrder = { marked: 0, slight: 1, absent: 2 };
  return {
    title: dealt.title,
    level: state.number.mixed === true ? 'Of which kind is not said' : LEVELS_OF_PRACTICE[state.number.level],
    errors: {
      items: [
        ...Object.entries(problems).map(([row, text]) => ({ href: `#cause-${row}`, text, allowed: '' })),
        ...(actionError === '' ? [] : [{ href: '#action-1', text: actionError, allowed: '' }]),
      ],
    },
    hidden: [
      { name: 'case', value: dealt.code },
      ...state.moves.map((move) => ({ name: 'm', value: writeMove(move) })),
      ...(state.trainee === '' ? [] : [{ name: 'trainee', value: state.trainee }]),
    ],
    card: [...viewCard(dealt.input.given, knowledge), ...viewBefore(dealt.input.before, knowledge)],
    known: viewKnown(dealt.input, book),
    seen: Object.entries(dealt.input.observations)
      .filter(([, level]) => level !== 'absent')
      .sort(([, a], [, b]) => signOrder[a] - signOrder[b])
      .map(([id, level]) => ({ label: book.symptoms.get(id)?.label ?? id, level: LEVEL_WORDS[level] })),
    notSeen: absent.length === 0 ? '' : joinWords(absent, 'or'),
    minutes: spent === 0 ? 'No minute spent yet' : `${sayMinutes(spent)} spent`,
    moves,
    groups: GROUPS.map((group, n) => ({
      id: group.id,
      title: group.title,
      open: n === 0 && moves.length === 0,
      standstill: group.id === 'opened',
      checks: open
        .filter((check) => (group.stops as readonly string[]).includes(check.stops))
        .map((check) => ({
          value: check.id,
          label: check.label,
          ask: check.ask,
          effort: `${sayMinutes(checkMinutes(check, judgements))}${check.stops === 'none' || check.stops === 'lab' ? '' : `, ${STOP_WORDS[check.stops]}`}`,
        })),
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

/** Makes the moves on the dealt frame and tells what came of each. Moves that cannot be made are passed over. */
async function playMoves(room: TrainingRoom, dealt: PracticeCase, moves: readonly Move[]) {
  const { book } = room.reasoner.knowledge;
  const told: PracticePage['moves'][number][] = [];
  let input = dealt.input;
  let truth = dealt.truth;
  let spent = 0;
  const tell = (title: string, result: string, minutes: string, details: readonly string[] = []) =>
    told.push({ n: told.length + 1, title, result, details, minutes, latest: false });
  for (const move of moves) {
    if ('check' in move) {
      const answer = await answerCheck(room, dealt, move.check);
      const check = book.checks.get(move.check);
      spent += answer.minutes;
      input = withFinding(input, answer.check, answer.outcome);
      const opened = check !== undefined && needsStandstill(check);
      tell(
        check?.label ?? move.check,
        check?.outcomes[answer.outcome]?.label ?? answer.outcome,
        sayMinutes(answer.minutes),
        opened && move.standstill === true ? ['Opened at standstill'] : [],
      );
    } else if ('propose' in move) {
      tell(
        'Causes put forward',
        Object.entries(move.propose)
          .map(([id, confidence]) => `${book.causes.get(id)?.label ?? id}, ${Math.round(100 * confidence)} %`)
          .join('; '),
        '',
      );
    } else {
      const diagnosis = await room.diagnose(input);
      const outcome = await tryActions(
        room,
        dealt,
        truth,
        move.act.map((id) => ({
          id,
          causes: diagnosis.actions.find((action) => action.id === id)?.causes ?? [],
        })),
      );
      truth = outcome.truth;
      const changed = outcome.signs.filter((sign) => sign.before !== sign.after);
      tell(
        `${joinWords(move.act.map((id) => book.actions.get(id)?.label ?? id))}, ${move.on === 'everywhere' ? 'everywhere at once' : 'on trial'}`,
        changed.length === 0 ? 'Nothing changed; it is taken back' : 'Something changed; it is kept',
        '',
        outcome.signs.map(
          (sign) =>
            `${book.symptoms.get(sign.symptom)?.label ?? sign.symptom}: ${LEVEL_WORDS[sign.before]} → ${LEVEL_WORDS[sign.after]}`,
        ),
      );
    }
  }
  return {
    moves: told.map((one, i) => ({ ...one, latest: i === told.length - 1 })),
    input,
    spent,
  };
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
      kind: ACTION_KINDS[kind],
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

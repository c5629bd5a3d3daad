import { say } from '../../language/say.js';
import { PARTS } from '../../rules/knowledge/vocabulary.js';
import type { Move } from '../../rules/training/index.js';

/** Rows in which causes are put forward. */
export const PROPOSAL_ROWS = [1, 2, 3] as const;

/** What a form of the practice page asks for: a move, the end, or something to mend first. */
export type PracticeStep =
  | { readonly kind: 'move'; readonly move: Move }
  | { readonly kind: 'close' }
  | { readonly kind: 'wrong'; readonly draft: Readonly<Record<string, string>> };

/** Reads a form sent from the practice page. */
export function readPracticeStep(form: URLSearchParams): PracticeStep | undefined {
  const check = form.get('check');
  if (check !== null && check !== '') {
    const [id = '', part] = check.split('.');
    const tried = PARTS.find((one) => one === part);
    return {
      kind: 'move',
      move: {
        check: id,
        ...(tried === undefined ? {} : { part: tried }),
        ...(form.get('standstill') === 'yes' ? { standstill: true } : {}),
      },
    };
  }
  switch (form.get('do')) {
    case 'close':
      return { kind: 'close' };
    case 'propose': {
      const draft = draftOf(
        form,
        PROPOSAL_ROWS.flatMap((row) => [`cause.${row}`, `confidence.${row}`]),
      );
      const { problems, propose } = readProposal(draft);
      if (Object.keys(problems).length > 0) return { kind: 'wrong', draft: { ...draft, wrong: 'propose' } };
      return { kind: 'move', move: { propose } };
    }
    case 'act': {
      const draft = draftOf(form, ['action.1', 'action.2', 'on', 'standstill']);
      const act = [
        ...new Set([draft['action.1'], draft['action.2']].filter((id) => id !== undefined && id !== '')),
      ];
      if (act.length === 0) return { kind: 'wrong', draft: { ...draft, wrong: 'act' } };
      return {
        kind: 'move',
        move: {
          act: act as string[],
          on: draft.on === 'everywhere' ? 'everywhere' : 'trial',
          ...(draft.standstill === 'yes' ? { standstill: true } : {}),
        },
      };
    }
    default:
      return undefined;
  }
}

/** Confidences by cause, and what is wrong with a row. */
export function readProposal(draft: Readonly<Record<string, string>>): {
  readonly propose: Record<string, number>;
  readonly problems: Readonly<Record<number, string>>;
} {
  const propose: Record<string, number> = {};
  const problems: Record<number, string> = {};
  for (const row of PROPOSAL_ROWS) {
    const cause = draft[`cause.${row}`] ?? '';
    const typed = (draft[`confidence.${row}`] ?? '').trim();
    if (cause === '' && typed === '') continue;
    const percent = /^\d{1,3}\s*%?$/.test(typed) ? Number(typed.replace('%', '')) : Number.NaN;
    if (cause === '') problems[row] = say('practice.needs-cause');
    else if (!(percent >= 0 && percent <= 100)) problems[row] = say('practice.needs-sure');
    else if (Object.hasOwn(propose, cause)) problems[row] = say('practice.twice');
    else propose[cause] = percent / 100;
  }
  if (Object.keys(propose).length === 0 && Object.keys(problems).length === 0)
    problems[1] = say('practice.needs-one');
  return { propose, problems };
}

function draftOf(form: URLSearchParams, names: readonly string[]): Record<string, string> {
  return Object.fromEntries(
    names.flatMap((name) => {
      const value = form.get(name);
      return value === null || value === '' ? [] : [[name, value.slice(0, 100)]];
    }),
  );
}

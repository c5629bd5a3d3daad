import { sayTime } from '../../../language/numbers.js';
import { say } from '../../../language/say.js';
import type { KnowledgeNotice } from '../../../templates/models.js';
import { millZone } from '../../journal/mill-clock.js';
import type { KnowledgeState } from '../../knowledge-state.js';

const TIME = { day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' } as const;

/** A moment for reading, as the clocks of the mill show it: "25 Nov, 08:21". */
export const sayMoment = (moment: Date) => sayTime(moment, { ...TIME, timeZone: millZone() });

/** What every page says of the knowledge in use. */
export function viewKnowledgeState({ version, since, problems, gate }: KnowledgeState): KnowledgeNotice {
  const [first] = problems;
  const rest = problems.length - 1;
  return {
    version,
    since: sayMoment(since),
    problem:
      first === undefined
        ? undefined
        : {
            place: first.line === undefined ? first.file : `${first.file}:${first.line}`,
            message: first.field === '' ? first.message : `${first.field}: ${first.message}`,
            more: rest <= 0 ? '' : rest === 1 ? say('page.one-more') : say('page.more-problems', { n: rest }),
          },
    waiting: viewWaiting(gate),
  };
}

function viewWaiting(gate: KnowledgeState['gate']): KnowledgeNotice['waiting'] {
  if (gate === undefined || gate.kind === 'none') return undefined;
  return gate.kind === 'trying'
    ? {
        text:
          gate.of === 0
            ? say('kept.being-tried', { version: gate.version })
            : say('kept.being-tried-of', { version: gate.version, done: gate.done, of: gate.of }),
        held: false,
      }
    : { text: say('kept.held', { version: gate.version }), held: true };
}

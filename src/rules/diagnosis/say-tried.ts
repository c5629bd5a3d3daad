import type { Trial } from '../case/types.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import { inSentence, joinWords, TRIAL_RESULT_WORDS } from '../words.js';

/** The names of actions in a sentence; an id that the knowledge base has no longer stands for itself. */
export const sayActions = (actions: readonly string[], book: RuleBook): string =>
  joinWords(actions.map((action) => inSentence(book.actions.get(action)?.label ?? action)));

/** What was tried, and what came of it. */
export const sayTried = ({ actions, result }: Trial, book: RuleBook): string =>
  `${sayActions(actions, book)} (${TRIAL_RESULT_WORDS[result]})`;

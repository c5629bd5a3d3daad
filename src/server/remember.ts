import { language } from '../language/scope.js';
import type { CaseInput } from '../rules/case/types.js';
import type { Diagnostician } from '../rules/diagnostician.js';

/**
 * Keeps the last answers, so that the way from the bench to a cause and back does not work the case out anew. The
 * same case always gets the same answer in the same language from the same knowledge base, so nothing can go stale.
 *
 * @param most answers kept of each kind
 */
export function rememberAnswers(diagnostician: Diagnostician, most = 40): Diagnostician {
  return {
    knowledge: diagnostician.knowledge,
    vocabulary: diagnostician.vocabulary,
    rank: remember(most, (input) => diagnostician.rank(input)),
    diagnose: remember(most, (input) => diagnostician.diagnose(input)),
    report: remember(most, (input) => diagnostician.report(input)),
  };
}

function remember<Result>(
  most: number,
  answer: (input: CaseInput) => Promise<Result>,
): (input: CaseInput) => Promise<Result> {
  const kept = new Map<string, Promise<Result>>();
  return (input) => {
    const key = `${language()} ${JSON.stringify(input)}`;
    const known = kept.get(key);
    if (known !== undefined) {
      kept.delete(key);
      kept.set(key, known);
      return known;
    }
    const result = answer(input);
    kept.set(key, result);
    // A failure is not worth keeping: the next one may go well.
    result.catch(() => kept.delete(key));
    for (const oldest of kept.keys()) {
      if (kept.size <= most) break;
      kept.delete(oldest);
    }
    return result;
  };
}

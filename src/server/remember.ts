import { language } from '../language/scope.js';
import type { CaseInput } from '../rules/case/types.js';
import type { Diagnostician } from '../rules/diagnostician.js';
import type { BenchEngine } from './bench-engine.js';

/** Characters that the answers kept may have as JSON: whole diagnoses, and what the bench shows of them. */
const MOST_WHOLE = 12_000_000;
const MOST_BENCH = 24_000_000;

/**
 * Keeps the last answers, so that the way from the bench to a cause and back does not work the case out anew. The
 * same case always gets the same answer in the same language from the same knowledge base, so nothing can go stale.
 *
 * @param most characters kept, all answers together
 */
export function rememberAnswers(diagnostician: Diagnostician, most = MOST_WHOLE): Diagnostician {
  const kept = keepLast(most);
  return {
    knowledge: diagnostician.knowledge,
    vocabulary: diagnostician.vocabulary,
    rank: (input) => kept(['rank', input], () => diagnostician.rank(input)),
    diagnose: (input) => kept(['diagnose', input], () => diagnostician.diagnose(input)),
    report: (input) => kept(['report', input], () => diagnostician.report(input)),
  };
}

/** The same for what the pages of the bench ask. */
export function rememberBench(bench: BenchEngine, most = MOST_BENCH): BenchEngine {
  const kept = keepLast(most);
  return {
    answer: (input) => kept(['answer', input], () => bench.answer(input)),
    next: (input, later) => kept(['next', input, ...later], () => bench.next(input, later)),
    // Its two halves are what is asked for after a tap: whoever opens the page of a case just ticked has them there.
    async whole(input, later) {
      const [answerTo, nextTo] = [
        ['answer', input],
        ['next', input, ...later],
      ] as const;
      if (!kept.has(answerTo) || !kept.has(nextTo)) {
        const both = bench.whole(input, later);
        const halves = [
          kept(answerTo, () => both.then((one) => one.answer)),
          kept(nextTo, () => both.then((one) => one.next)),
        ];
        // Whoever waits for both is told of a failure by that.
        for (const half of halves) half.catch(() => {});
        return both;
      }
      const [answer, next] = await Promise.all([
        kept(answerTo, () => bench.answer(input)),
        kept(nextTo, () => bench.next(input, later)),
      ]);
      return { answer, next };
    },
    cause: (input, id) => kept(['cause', input, id], () => bench.cause(input, id)),
  };
}

type Question = readonly [kind: string, input: CaseInput, ...rest: readonly string[]];

interface Kept {
  readonly result: Promise<unknown>;
  /** Characters of question and answer; the question's alone until it is answered. */
  size: number;
}

interface Keeping {
  /** What was answered before, or else the answer now given. */
  <Result>(question: Question, answer: () => Promise<Result>): Promise<Result>;
  has(question: Question): boolean;
}

/** Keeps what was asked last, as much as there is room for. */
function keepLast(most: number): Keeping {
  const kept = new Map<string, Kept>();
  let total = 0;
  const forget = (key: string, one: Kept): void => {
    if (kept.get(key) !== one) return;
    kept.delete(key);
    total -= one.size;
  };
  const makeRoom = (): void => {
    for (const [key, one] of kept) {
      if (total <= most) break;
      forget(key, one);
    }
  };
  const keyOf = (question: Question) => `${language()} ${JSON.stringify(question)}`;
  const keep = <Result>(question: Question, answer: () => Promise<Result>) => {
    const key = keyOf(question);
    const known = kept.get(key);
    if (known !== undefined) {
      kept.delete(key);
      kept.set(key, known);
      return known.result as Promise<Result>;
    }
    const result = answer();
    const one: Kept = { result, size: key.length };
    kept.set(key, one);
    total += one.size;
    result.then(
      (said) => {
        if (kept.get(key) !== one) return;
        const more = JSON.stringify(said)?.length ?? 0;
        one.size += more;
        total += more;
        makeRoom();
      },
      // A failure is not worth keeping: the next one may go well.
      () => forget(key, one),
    );
    makeRoom();
    return result;
  };
  return Object.assign(keep, { has: (question: Question) => kept.has(keyOf(question)) });
}

import { deserialize, serialize } from 'node:v8';
import { language } from '../language/scope.js';
import type { CaseInput } from '../rules/case/types.js';
import type { Diagnostician } from '../rules/diagnostician.js';
import { keepLast } from '../rules/keep-last.js';
import type { BenchEngine } from './bench-engine.js';

/** Bytes that the answers kept may take: whole diagnoses, and what the bench shows of them. */
const MOST_WHOLE = 12_000_000;
const MOST_BENCH = 24_000_000;

/**
 * Keeps the last answers, so that the way from the bench to a cause and back does not work the case out anew. The
 * same case always gets the same answer in the same language from the same knowledge base, so nothing can go stale.
 *
 * @param most bytes kept, all answers together
 */
export function rememberAnswers(diagnostician: Diagnostician, most = MOST_WHOLE): Diagnostician {
  const kept = keepAnswers(most);
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
  const kept = keepAnswers(most);
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
    onPaper: (input, trial) =>
      kept(['paper', input, JSON.stringify(trial)], () => bench.onPaper(input, trial)),
  };
}

type Question = readonly [kind: string, input: CaseInput, ...rest: readonly string[]];

/** Cases as texts: a case is asked about more than once, and stays as it is. */
const texts = new WeakMap<CaseInput, string>();

function textOf(input: CaseInput): string {
  let text = texts.get(input);
  if (text === undefined) {
    text = JSON.stringify(input);
    texts.set(input, text);
  }
  return text;
}

/**
 * Answers by what was asked and in which language, up to so many bytes of questions and answers. Kept as bytes: the objects
 * of thousands of answers would take several times as much, and be looked through at every sweep of the memory.
 */
function keepAnswers(most: number) {
  const kept = keepLast<Uint8Array>(most, (key, answer) => key.length + (answer?.length ?? 0));
  const keyOf = ([kind, input, ...rest]: Question) =>
    `${language()} ${JSON.stringify([kind, ...rest])} ${textOf(input)}`;
  return Object.assign(
    async <Result>(question: Question, work: () => Promise<Result>): Promise<Result> => {
      let fresh: { readonly result: Result } | undefined;
      const bytes = await kept(keyOf(question), async () => {
        fresh = { result: await work() };
        // Without the room that was left for more.
        return new Uint8Array(serialize(fresh.result));
      });
      return fresh === undefined ? (deserialize(bytes) as Result) : fresh.result;
    },
    { has: (question: Question) => kept.has(keyOf(question)) },
  );
}

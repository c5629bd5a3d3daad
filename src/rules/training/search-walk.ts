/** The order in which causes would be looked at, what each look costs, and where the search is handed over. */
export interface SearchPlan {
  readonly order: readonly number[];
  readonly costs: readonly number[];
  /** How many of the order are looked at before handing over. */
  readonly stopAfter: number;
}

/**
 * The plan behind the product's expected search minutes (see `expectedSearchMinutes`): causes by probability over
 * minutes, handed over where going on costs more than it saves.
 *
 * @param probabilities of each cause, 0–1
 * @param minutes to prove or exclude each, above 0
 * @param handOver minutes that a search handed over still costs
 */
export function planSearch(
  probabilities: readonly number[],
  minutes: readonly number[],
  handOver: number,
): SearchPlan {
  const scale =
    1 /
    Math.max(
      1,
      probabilities.reduce((sum, p) => sum + p, 0),
    );
  const costs = probabilities.map((p, i) => lookMinutes(p, minutes[i] ?? 1));
  const worth = (i: number) => (probabilities[i] ?? 0) / (costs[i] ?? 1);
  const order = probabilities.map((_, i) => i).sort((a, b) => worth(b) - worth(a));
  let best = handOver;
  let stopAfter = 0;
  let spent = 0;
  let expected = 0;
  let found = 0;
  order.forEach((i, place) => {
    const p = (probabilities[i] ?? 0) * scale;
    spent += costs[i] ?? 0;
    expected += p * spent;
    found += p;
    const total = expected + Math.max(0, 1 - found) * (spent + handOver);
    if (total < best) {
      best = total;
      stopAfter = place + 1;
    }
  });
  return { order, costs, stopAfter };
}

/** Minutes that one look takes: what is nearly certain needs little proving. */
export const lookMinutes = (probability: number, minutes: number): number =>
  Math.max(0.1, minutes * Math.min(1, 2 * (1 - probability)));

/**
 * Minutes until every true cause has been come to along a list of looks, or the search is handed over at its end.
 * @param looks causes in the order of looking, with the minutes of each look
 */
export function walkSearch(
  looks: readonly { readonly cause: string; readonly minutes: number }[],
  truth: readonly string[],
  handOver: number,
): number {
  const left = new Set(truth);
  let spent = 0;
  for (const look of looks) {
    if (left.size === 0) break;
    spent += look.minutes;
    left.delete(look.cause);
  }
  return left.size === 0 ? spent : spent + handOver;
}

/**
 * Expected minutes until the cause is found when causes are looked at one after another, in the order of probability
 * over minutes (optimal for a single fault whose looks cost the same in any order: Kadane & Simon 1977). The
 * probabilities are shared out as if one cause were at work: only for ordering work, never shown as beliefs.
 *
 * @param probabilities marginal probability of each cause, 0–1
 * @param minutes minutes to prove or exclude each
 * @param handOver minutes after which a search that found nothing is given to someone else
 */
export function expectedSearchMinutes(
  probabilities: ArrayLike<number>,
  minutes: ArrayLike<number>,
  handOver: number,
): number {
  let total = 0;
  for (let i = 0; i < probabilities.length; i++) total += probabilities[i] ?? 0;
  const scale = 1 / Math.max(1, total);
  const unlisted = Math.max(0, 1 - total);
  const order: number[] = [];
  for (let i = 0; i < probabilities.length; i++) if ((probabilities[i] ?? 0) * scale > 0.002) order.push(i);
  order.sort(
    (a, b) => (probabilities[b] ?? 0) / (minutes[b] ?? 1) - (probabilities[a] ?? 0) / (minutes[a] ?? 1),
  );
  let spent = 0;
  let expected = 0;
  let found = 0;
  for (const i of order) {
    const p = (probabilities[i] ?? 0) * scale;
    const next = minutes[i] ?? 0;
    // Looking on is worth it only while it is likely enough to end the search sooner than handing over would.
    if (p / Math.max(1e-9, 1 - found) < next / (next + handOver) / 6) continue;
    spent += next;
    expected += p * spent;
    found += p;
  }
  return expected + Math.max(unlisted, 1 - found) * (spent + handOver);
}

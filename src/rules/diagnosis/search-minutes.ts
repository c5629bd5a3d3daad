/**
 * Expected minutes until the cause is found when causes are looked at one after another in the order of probability
 * over minutes, and the search is handed over once going on costs more than it is expected to save. The order is
 * optimal for a single fault whose looks cost the same in any order (Kadane & Simon 1977); every stopping point is
 * tried. What is nearly certain needs little proving: above one half the minutes fall with the doubt that is left.
 *
 * @param probabilities chance that each cause is the one to find; they sum to 1 at most, the rest is something unlisted
 * @param minutes minutes to prove or exclude each, above 0
 * @param handOver minutes that a search handed over still costs
 */
export function expectedSearchMinutes(
  probabilities: ArrayLike<number>,
  minutes: ArrayLike<number>,
  handOver: number,
): number {
  const { length } = probabilities;
  const { costs, worth, order } = roomFor(length);
  for (let i = 0; i < length; i++) {
    const p = probabilities[i] ?? 0;
    const cost = Math.max(0.1, (minutes[i] ?? 1) * Math.min(1, 2 * (1 - p)));
    costs[i] = cost;
    worth[i] = p / cost;
  }
  // By hand: this is asked for every answer of every check, and the lists are short.
  for (let i = 0; i < length; i++) {
    let at = i;
    for (; at > 0 && (worth[order[at - 1] as number] as number) < (worth[i] as number); at--)
      order[at] = order[at - 1] as number;
    order[at] = i;
  }
  let best = handOver;
  let spent = 0;
  let expected = 0;
  let found = 0;
  for (let place = 0; place < length; place++) {
    const i = order[place] as number;
    const p = probabilities[i] ?? 0;
    spent += costs[i] as number;
    expected += p * spent;
    found += p;
    best = Math.min(best, expected + Math.max(0, 1 - found) * (spent + handOver));
  }
  return best;
}

let room = makeRoom(64);

/** The same arrays again and again, of at least this length: small arrays are dear to make. */
function roomFor(length: number): ReturnType<typeof makeRoom> {
  if (room.order.length < length) room = makeRoom(2 * length);
  return room;
}

function makeRoom(length: number) {
  return {
    costs: new Float64Array(length),
    worth: new Float64Array(length),
    order: new Int32Array(length),
  };
}

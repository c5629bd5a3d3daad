/** How a variable's states pair up in a product: equal, or by the worse of two levels, with one operand judging or none. */
export type Pairing = 'same' | 'both-bring' | 'left-judges' | 'right-judges';

/** The states that meet: of the result, of the left and of the right operand. */
export type StateTriple = readonly [out: number, left: number, right: number];

/** The states that meet of a variable of so many states. */
export const pairStates = keptPairs(listPairs);

function listPairs(card: number, pairing: Pairing): readonly StateTriple[] {
  const triples: StateTriple[] = [];
  for (let a = 0; a < card; a++) {
    if (pairing === 'same') {
      triples.push([a, a, a]);
      continue;
    }
    for (let b = 0; b < card; b++) {
      const worse = Math.max(a, b);
      if (pairing === 'both-bring') triples.push([worse, a, b]);
      // `a` is still to come, `b` is brought here, the judge hears the worse.
      else triples.push(pairing === 'left-judges' ? [a, worse, b] : [a, b, worse]);
    }
  }
  return triples;
}

/** The states in the left and in the right operand from which something comes about, one way after the other. */
export interface Ways {
  readonly left: Uint8Array;
  readonly right: Uint8Array;
}

/** By state of the result, the ways in which it comes about from the operands. */
export const waysTo = keptPairs(listWays);

function listWays(card: number, pairing: Pairing): Ways[] {
  return Array.from({ length: card }, (_, state) => {
    const triples = pairStates(card, pairing).filter(([out]) => out === state);
    return {
      left: Uint8Array.from(triples, ([, left]) => left),
      right: Uint8Array.from(triples, ([, , right]) => right),
    };
  });
}

const fromAll: Ways[] = [];

/** The ways in which a sum over all states of a variable comes about. */
export function waysFromAll(card: number): Ways {
  const known = fromAll[card];
  if (known !== undefined) return known;
  const states = Uint8Array.from({ length: card }, (_, state) => state);
  const ways = { left: states, right: states };
  fromAll[card] = ways;
  return ways;
}

/** Keeps the lists: they depend on little, and every step of every tree asks for some. */
function keptPairs<T>(list: (card: number, pairing: Pairing) => T): (card: number, pairing: Pairing) => T {
  const kept = new Map<Pairing, (T | undefined)[]>();
  return (card, pairing) => {
    const byCard = kept.get(pairing) ?? [];
    kept.set(pairing, byCard);
    byCard[card] ??= list(card, pairing);
    return byCard[card] as T;
  };
}

/** State of "at most level m" in an extended operand. */
function atMost(card: number, level: number): number {
  return level === 0 ? 0 : card - 1 + level;
}

/** `pairStates` for a bringing operand that is extended: the right one, or the left one under `right-judges`. */
export const pairExtended = keptPairs(listExtendedPairs);

function listExtendedPairs(card: number, pairing: Pairing): readonly StateTriple[] {
  if (pairing === 'same') return pairStates(card, pairing);
  const triples: StateTriple[] = [];
  for (let a = 0; a < card; a++) {
    if (pairing === 'both-bring') {
      triples.push([a, a, atMost(card, a)]);
      for (let below = 0; below < a; below++) triples.push([a, below, a]);
      continue;
    }
    const judged: [number, number][] = [[a, atMost(card, a)]];
    for (let above = a + 1; above < card; above++) judged.push([above, above]);
    for (const [heard, brought] of judged) {
      triples.push(pairing === 'left-judges' ? [a, heard, brought] : [a, brought, heard]);
    }
  }
  return triples;
}

/** States of the extended operand and the plain states they sum. */
export function extendStates(card: number): [extended: number, plain: number][] {
  const pairs: [number, number][] = [];
  for (let s = 0; s < card; s++) pairs.push([s, s]);
  for (let m = 1; m < card; m++) for (let s = 0; s <= m; s++) pairs.push([atMost(card, m), s]);
  return pairs;
}

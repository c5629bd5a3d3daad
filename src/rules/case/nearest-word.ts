/**
 * The word of a list that was most likely meant: the same but for case and separators, or within about a third of
 * the letters changed (Levenshtein distance).
 * @returns undefined when nothing is near enough
 */
export function nearestWord(word: string, words: Iterable<string>): string | undefined {
  const wanted = plain(word.slice(0, 60));
  let best: string | undefined;
  let least = Math.max(1, Math.floor(wanted.length / 3)) + 1;
  for (const candidate of words) {
    const distance = editDistance(wanted, plain(candidate));
    if (distance < least) {
      best = candidate;
      least = distance;
    }
  }
  return best;
}

const plain = (word: string) => word.toLowerCase().replace(/[\s_.-]+/g, '-');

function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const swap = (row[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(swap, (row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1));
    }
    row = next;
  }
  return row[b.length] ?? 0;
}

/**
 * Shares of a difference between two states that each of a few switches accounts for: the mean, over all orders in
 * which the switches can be thrown, of what throwing it changes. The shares add up to the whole difference.
 *
 * @param count number of switches, 0 to 8 (2^count values are asked for, each once)
 * @param value what is measured with a set of switches thrown, given as a bit mask
 */
export function shapleyShares(count: number, value: (thrown: number) => number): number[] {
  if (!Number.isInteger(count) || count < 0 || count > 8)
    throw new RangeError(`switches: ${count} is not possible; give a whole number from 0 to 8`);
  const values = Array.from({ length: 1 << count }, (_unused, mask) => value(mask));
  const factorial = (n: number): number => (n <= 1 ? 1 : n * factorial(n - 1));
  return Array.from({ length: count }, (_unused, one) => {
    let share = 0;
    for (let mask = 0; mask < values.length; mask++) {
      if ((mask & (1 << one)) !== 0) continue;
      const before = bitCount(mask);
      const weight = (factorial(before) * factorial(count - before - 1)) / factorial(count);
      share += weight * ((values[mask | (1 << one)] ?? 0) - (values[mask] ?? 0));
    }
    return share;
  });
}

function bitCount(mask: number): number {
  let count = 0;
  for (let left = mask; left > 0; left >>= 1) count += left & 1;
  return count;
}

import { say } from '../../../language/say.js';
import { compareRates } from '../../../statistics/index.js';
import { sayRough } from '../../words.js';

interface Count {
  readonly count: number;
  readonly rotorHours: number;
}

/** A finished trial in sentences: counts, rates, and whether the difference is more than chance. */
export function sayTrial(without: Count, changed: Count): string[] {
  const rate = ({ count, rotorHours }: Count) =>
    say('trial.rate', { rate: sayRough((1000 * count) / rotorHours) });
  const lines = [
    say('trial.counts', {
      a: without.count,
      aHours: sayRough(without.rotorHours),
      aRate: rate(without),
      b: changed.count,
      bHours: sayRough(changed.rotorHours),
      bRate: rate(changed),
    }),
  ];
  if (without.count + changed.count === 0) return lines;
  const { verdict, interval } = compareRates(changed, without);
  const range = Number.isFinite(interval.upper)
    ? ` ${say('trial.range', { low: sayRough(100 * interval.lower), high: sayRough(100 * interval.upper) })}`
    : '';
  lines.push(
    verdict === 'first-lower'
      ? `${say('trial.drop')}${range}`
      : verdict === 'first-higher'
        ? `${say('trial.worse')}${range}`
        : `${say('trial.chance')}${range}`,
  );
  return lines;
}

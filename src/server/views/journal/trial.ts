import { compareRates } from '../../../statistics/index.js';
import { sayRough } from '../../words.js';

interface Count {
  readonly count: number;
  readonly rotorHours: number;
}

/** A finished trial in sentences: counts, rates, and whether the difference is more than chance. */
export function sayTrial(without: Count, changed: Count): string[] {
  const rate = ({ count, rotorHours }: Count) =>
    `${sayRough((1000 * count) / rotorHours)} per 1000 rotor-hours`;
  const lines = [
    `Without the change ${without.count} breaks in ${sayRough(without.rotorHours)} rotor-hours (${rate(without)}); with it ${changed.count} in ${sayRough(changed.rotorHours)} (${rate(changed)}).`,
  ];
  if (without.count + changed.count === 0) return lines;
  const { verdict, interval } = compareRates(changed, without);
  const range = Number.isFinite(interval.upper)
    ? ` The true rate with the change is between ${sayRough(100 * interval.lower)} and ${sayRough(100 * interval.upper)} % of that without (95 %).`
    : '';
  lines.push(
    verdict === 'first-lower'
      ? `The drop is more than chance.${range}`
      : verdict === 'first-higher'
        ? `It got worse, and more than by chance.${range}`
        : `The difference may be chance; more hours would tell.${range}`,
  );
  return lines;
}

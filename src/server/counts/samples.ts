import { wordTable } from '../../language/say.js';
import { createRandom } from '../../statistics/random.js';

/** Example tables of an invented mill, to try the pages with; the same each time. */
export const SAMPLES = {
  positions: {
    name: 'frame-3-by-position.csv',
    make: samplePositions,
  },
  log: { name: 'frame-7-log.csv', make: sampleLog },
  shifts: { name: 'shifts.csv', make: sampleShifts },
} as const;
export type SampleName = keyof typeof SAMPLES;

/** What the examples are called. */
export const SAMPLE_LABELS: Readonly<Record<SampleName, string>> = wordTable('count-sample', [
  'positions',
  'log',
  'shifts',
]);

export const isSample = (name: string): name is SampleName => Object.hasOwn(SAMPLES, name);

function createPoisson(seed: number): { random: () => number; poisson: (mean: number) => number } {
  const random = createRandom(seed);
  const poisson = (mean: number): number => {
    let count = 0;
    let term = Math.exp(-mean);
    let sum = term;
    const target = random();
    while (target > sum && count < 1000) {
      count++;
      term *= mean / count;
      sum += term;
    }
    return count;
  };
  return { random, poisson };
}

/** One bad position and one bad section. */
function samplePositions(): string {
  const { poisson } = createPoisson(31);
  const rows = Array.from({ length: 240 }, (_, i) => {
    const mean = i === 116 ? 14 : i >= 48 && i < 60 ? 6 : 2;
    return `3;${i + 1};${poisson(mean)};23,5`;
  });
  return `Frame;Position;Breaks;Hours run\r\n${rows.join('\r\n')}\r\n`;
}

/** A rise of the whole frame on the tenth day. */
function sampleLog(): string {
  const { random, poisson } = createPoisson(72);
  const rows: { time: number; text: string }[] = [];
  const start = Date.UTC(2026, 10, 2);
  for (let hour = 0; hour < 24 * 14; hour++)
    for (let n = poisson(120 * (hour < 228 ? 0.08 : 0.15)); n > 0; n--) {
      const time = start + hour * 3_600_000 + Math.floor(random() * 3600) * 1000;
      const reason = random() < 0.06 ? 'sliver out' : 'end break';
      const position = 1 + Math.floor(random() * 120);
      rows.push({
        time,
        text: `${new Date(time).toISOString().slice(0, 19).replace('T', ' ')},7,${position},${reason}`,
      });
    }
  rows.sort((a, b) => a.time - b.time);
  return `Time,Frame,Position,Reason\n${rows.map((row) => row.text).join('\n')}\n`;
}

/** The night shift breaks more. */
function sampleShifts(): string {
  const { poisson } = createPoisson(9);
  const rows: string[] = [];
  for (let day = 0; day < 28; day++)
    for (const shift of ['early', 'late', 'night']) {
      const date = new Date(Date.UTC(2026, 9, 26 + day)).toISOString().slice(0, 10);
      const [year, month, of] = date.split('-');
      rows.push(`${of}.${month}.${year}\t${shift}\t${poisson(shift === 'night' ? 240 : 165)}\t1912`);
    }
  return `Date\tShift\tEnd breaks\tRotor hours\n${rows.join('\n')}\n`;
}

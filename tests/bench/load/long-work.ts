import { performance } from 'node:perf_hooks';
import { createRandom } from '../../../src/statistics/random.js';
import type { Client } from './client.js';
import type { Figures } from './figures.js';
import type { World } from './supervisors.js';

/** Rows of the table that is read in again and again. */
const ROWS = 20_000;
const PAUSE_MS = 5000;

/**
 * What a technologist and a quality engineer do meanwhile, one thing after the other with five seconds between: a plan,
 * a table of breaks read and judged, the sensitivities of a case.
 */
export async function longWork(client: Client, world: World, figures: Figures, end: number): Promise<void> {
  const random = createRandom(7);
  const table = tableOfBreaks(random);
  const case_ = () => {
    const symptom = world.symptoms[Math.floor(random() * world.symptoms.length)];
    const frame = world.frames[Math.floor(random() * world.frames.length)];
    return `?frame=${frame}&observations.${symptom}=marked&observations.end-breaks=slight`;
  };
  const things: readonly (readonly [string, () => Promise<number>])[] = [
    ['plan', async () => (await client.get(`/plan${case_()}`)).status],
    [
      `table of ${ROWS} breaks`,
      async () => {
        const sent = await client.post('/counts/table', new URLSearchParams({ text: table }).toString());
        if (sent.status !== 303) return sent.status;
        return (await client.get(`${sent.location}/answer`)).status;
      },
    ],
    ['sensitivities', async () => (await client.get(`/sensitivity${case_()}`)).status],
  ];
  for (let n = 0; performance.now() < end - PAUSE_MS; n++) {
    const [name, work] = things[n % things.length] as (typeof things)[number];
    const from = performance.now();
    try {
      const status = await work();
      if (status === 200) figures.done(name, performance.now() - from, 0);
      else figures.failed(name, `status ${status}`);
    } catch (error) {
      figures.failed(name, error instanceof Error ? error.message : String(error));
    }
    await new Promise((resolve) => setTimeout(resolve, PAUSE_MS));
  }
}

function tableOfBreaks(random: () => number): string {
  const lines = ['time,frame,position'];
  const start = Date.parse('2026-03-02T06:00:00Z');
  for (let n = 0; n < ROWS; n++)
    lines.push(
      `${new Date(start + n * 60_000).toISOString().slice(0, 19)},${1 + Math.floor(4 * random())},${1 + Math.floor(240 * random())}`,
    );
  return lines.join('\n');
}

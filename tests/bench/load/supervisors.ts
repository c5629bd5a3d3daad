/**
 * What two hundred supervisors do. The model, all of it judged:
 *
 * - Each does something every 5 to 10 s (evenly spread), whether the last answer came or not: 26.7 doings a second.
 * - 45 of 100 doings are a tap on the bench. The page asks for the ranking and, as no further tap follows within a
 *   quarter of a second, for the next checks and actions. Something is really wrong at the frame: the signs come from one
 *   of the situations of the knowledge base, in any order; after every second of them, and when all are told, another sign
 *   is looked for and mostly not seen, now and then slight. Frame, setting, situation and order differ from person to
 *   person, so next to no ranking has been worked out before.
 * - 10 open the bench page of their case, 10 a cause of it; 6 the setup, of which one in three has moved a setting; 3 try
 *   a setting on paper; 2 look at the drawing.
 * - 18 read in the journal: overview, frames, cases, one case, one frame, the quality desk.
 * - 4 write a step into a case; 12 look into the knowledge, the counts or the first page.
 */
import { createRandom } from '../../../src/statistics/random.js';

export interface Demand {
  /** Kind of request, as it stands in the report. */
  readonly kind: string;
  readonly path: string;
  readonly headers?: Readonly<Record<string, string>>;
  /** Fields of a form to be sent; from the page at `path` when left out. */
  readonly body?: string;
  /** What the browser asks next, milliseconds after this was asked for. */
  readonly next?: { readonly after: number; readonly demand: Demand };
}

/** What there is to be asked for. */
export interface World {
  readonly frames: readonly string[];
  readonly symptoms: readonly string[];
  readonly causes: readonly string[];
  readonly cases: readonly string[];
  readonly knowledge: readonly string[];
  /** Signs that go together, with their levels. */
  readonly situations: readonly (readonly (readonly [symptom: string, level: string])[])[];
}

export interface Supervisor {
  /** Milliseconds to the next doing. */
  pause(): number;
  act(): Demand;
}

const HTMX = { 'hx-request': 'true', 'hx-request-type': 'partial' };
/** Taps at one frame before going on to the next. */
const TAPS = 8;

/** A supervisor who always does the same things for the same number. */
export function makeSupervisor(number: number, world: World): Supervisor {
  const random = createRandom(1000 + number);
  const pick = <T>(list: readonly T[]): T => {
    const one = list[Math.floor(random() * list.length)];
    if (one === undefined) throw new Error('nothing to pick from');
    return one;
  };
  const seen = new Map<string, string>();
  let frame = pick(world.frames);
  let taps = 0;
  let setting = '';
  /** Signs of the situation that are not told yet. */
  let untold: (readonly [symptom: string, level: string])[] = [];

  const query = (): string => {
    const params = new URLSearchParams({ frame });
    if (setting !== '') params.set('setup.room.humidity', setting);
    for (const [symptom, level] of seen) params.set(`observations.${symptom}`, level);
    return `?${params}`;
  };
  const tap = (): void => {
    if (taps === 0 || taps >= TAPS) {
      taps = 0;
      frame = pick(world.frames);
      seen.clear();
      setting = random() < 0.2 ? String(45 + Math.floor(30 * random())) : '';
      untold = [...pick(world.situations)];
    }
    taps++;
    const [sign] = taps % 3 === 0 ? [] : untold.splice(Math.floor(random() * untold.length), 1);
    if (sign !== undefined) seen.set(...sign);
    else {
      const symptom = pick(world.symptoms);
      if (!seen.has(symptom)) seen.set(symptom, random() < 0.8 ? 'absent' : 'slight');
    }
  };
  const onBench = (): string => {
    if (seen.size === 0) tap();
    return query();
  };

  return {
    pause: () => 5000 + 5000 * random(),
    act(): Demand {
      const which = 100 * random();
      if (which < 45) {
        tap();
        const at = query();
        return {
          kind: 'ranking after a tap',
          path: `/bench/answer${at}`,
          headers: { ...HTMX, 'hx-target': 'section#answer' },
          next: {
            after: 300,
            demand: {
              kind: 'next checks and actions',
              path: `/bench/next${at}`,
              headers: { ...HTMX, 'hx-target': 'div#next' },
            },
          },
        };
      }
      if (which < 55) return { kind: 'bench page', path: `/bench${onBench()}` };
      if (which < 65) return { kind: 'a cause', path: `/cause/${pick(world.causes)}${onBench()}` };
      if (which < 71) {
        const moved = random() < 0.33 ? `&setup.rotor.speed=${60_000 + 500 * Math.floor(80 * random())}` : '';
        return { kind: 'setup page', path: `/setup?frame=${frame}${moved}` };
      }
      if (which < 74)
        return {
          kind: 'a setting on paper',
          path: `/what-if${onBench()}&to.rotor.speed=${60_000 + 500 * Math.floor(80 * random())}`,
        };
      if (which < 76) return { kind: 'drawing', path: `/drawing${onBench()}` };
      if (which < 94)
        return pick<Demand>([
          { kind: 'journal overview', path: '/journal' },
          { kind: 'frames', path: '/frames' },
          { kind: 'list of cases', path: '/cases' },
          { kind: 'list of cases', path: `/cases?frame=${frame}` },
          { kind: 'a case', path: `/cases/${pick(world.cases)}` },
          { kind: 'a case', path: `/cases/${pick(world.cases)}` },
          { kind: 'a frame', path: `/frames/${frame}` },
          { kind: 'quality desk', path: '/quality' },
        ]);
      if (which < 98)
        return { kind: 'step written into a case', path: `/cases/${pick(world.cases)}/record/noted` };
      return pick<Demand>([
        { kind: 'first page', path: '/' },
        { kind: 'knowledge', path: pick(world.knowledge) },
        { kind: 'counts', path: '/counts' },
      ]);
    },
  };
}

import { loadavg } from 'node:os';
import { monitorEventLoopDelay, performance } from 'node:perf_hooks';
import type { Client } from './client.js';
import { Figures } from './figures.js';
import { longWork } from './long-work.js';
import { readSample, type Sample } from './sample.js';
import { type Demand, makeSupervisor, type World } from './supervisors.js';
import { fillForm } from './world.js';

export interface LoadResult {
  readonly seconds: number;
  /** Pages that supervisors wait for. */
  readonly pages: Figures;
  /** Work that one sits down for, going on beside it. */
  readonly work: Figures;
  readonly samples: readonly Sample[];
  /** How late the load itself was, 99th percentile, milliseconds: part of every time above. */
  readonly ownDelay: number;
  /** Machine load of the last minute, at the start and at the end. */
  readonly machine: readonly [number, number];
}

export interface LoadOptions {
  readonly supervisors: number;
  readonly seconds: number;
  /** Seconds at the start that are not counted. */
  readonly settle: number;
  readonly sampleSeconds: number;
}

const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, Math.max(0, ms)));

/**
 * Sends what so many supervisors do, for so long. Arrivals are open: a doing is due when it is due, whether the answer
 * before it has come or not, and its time counts from when it was due. A slow server is thus not spared.
 */
export async function runLoad(client: Client, world: World, options: LoadOptions): Promise<LoadResult> {
  const pages = new Figures();
  const work = new Figures();
  const samples: Sample[] = [];
  const own = monitorEventLoopDelay({ resolution: 5 });
  own.enable();
  const began = performance.now();
  const end = began + options.seconds * 1000;
  const counted = (due: number) => due - began >= options.settle * 1000;
  const atStart = loadavg()[0] ?? 0;
  const underWay = new Set<Promise<void>>();

  const measure = async (demand: Demand, due: number): Promise<void> => {
    const { kind, path, headers } = demand;
    try {
      const isForm = kind.startsWith('step');
      const reply = await client.get(path, headers, isForm);
      if (reply.status !== 200) {
        pages.failed(kind, `status ${reply.status}`, path);
        return;
      }
      if (counted(due)) pages.done(isForm ? 'form for a step' : kind, performance.now() - due, reply.bytes);
      if (!isForm) return;
      const sent = performance.now();
      const form = fillForm(reply.text, { who: 'Load', note: 'Seen on the round.' });
      const { status, bytes } = await client.post(path, form);
      // Somebody else wrote into the same case in between: the page says so, and that is right.
      if (status === 409) return;
      if (status !== 303) pages.failed(kind, `status ${status}`, path);
      else if (counted(due)) pages.done(kind, performance.now() - sent, bytes);
    } catch (error) {
      pages.failed(kind, error instanceof Error ? error.message : String(error), path);
    }
  };
  const follow = (promise: Promise<void>): void => {
    underWay.add(promise);
    void promise.finally(() => underWay.delete(promise));
  };
  const live = async (number: number): Promise<void> => {
    const supervisor = makeSupervisor(number, world);
    // Spread over the first pause, or all would start at once.
    let due = began + supervisor.pause() * ((number % 97) / 97);
    while (due < end) {
      await wait(due - performance.now());
      const demand = supervisor.act();
      follow(measure(demand, due));
      const { next } = demand;
      if (next !== undefined) {
        const at = due + next.after;
        follow(wait(at - performance.now()).then(() => measure(next.demand, at)));
      }
      due += supervisor.pause();
    }
  };
  const watch = async (): Promise<void> => {
    for (let at = began; at < end; at += options.sampleSeconds * 1000) {
      await wait(at - performance.now());
      samples.push(await readSample(client, (performance.now() - began) / 1000));
    }
  };
  await Promise.all([
    ...Array.from({ length: options.supervisors }, (_, number) => live(number)),
    longWork(client, world, work, end),
    watch(),
  ]);
  await Promise.all(underWay);
  own.disable();
  return {
    seconds: (performance.now() - began) / 1000,
    pages,
    work,
    samples,
    ownDelay: own.percentile(99) / 1e6,
    machine: [atStart, loadavg()[0] ?? 0],
  };
}

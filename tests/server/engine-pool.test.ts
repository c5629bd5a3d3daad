import { fileURLToPath } from 'node:url';
import { afterEach, beforeAll, describe, expect, it } from 'vitest';
import { readCaseObject } from '../../src/rules/case/case-file.js';
import type { CaseInput } from '../../src/rules/case/types.js';
import { defaultKnowledgeFolder } from '../../src/rules/knowledge/load-knowledge.js';
import type { PlanRequest } from '../../src/rules/plans/make-plans.js';
import { loadTraining, openTrainingRoom, TrainingError, workIn } from '../../src/rules/training/index.js';
import { openBench } from '../../src/server/bench-engine.js';
import { judgeTable } from '../../src/server/counts/judge-table.js';
import { SAMPLES } from '../../src/server/counts/samples.js';
import { readTableQuery } from '../../src/server/counts/table-query.js';
import {
  EngineFault,
  type EnginePool,
  EngineTimeout,
  startEnginePool,
} from '../../src/server/engine-pool.js';
import { openWorkshop } from '../../src/server/workshop.js';
import { inspectTable } from '../../src/statistics/tables/index.js';
import { ensureBuilt } from '../faults/built-program.js';
import { testSite } from './site.js';

const { diagnostician } = testSite();
const knowledgeRoot = defaultKnowledgeFolder();
const unruly = fileURLToPath(new URL('./workers/unruly.mjs', import.meta.url));
// The product's own worker, from the build: threads that first have to translate their sources start slowly.
const real = fileURLToPath(new URL('../../dist/server/engine-worker.js', import.meta.url));

beforeAll(ensureBuilt, 180_000);
let pool: EnginePool | undefined;
afterEach(async () => pool?.close());

function caseOf(value: Record<string, unknown>): CaseInput {
  const reading = readCaseObject(value, diagnostician.vocabulary, { partial: true });
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  return reading.case;
}
const titled = (title: string) => caseOf({ title });

describe('the engine pool', () => {
  it('gives the answers that the same reasoning gives on this thread', async () => {
    pool = startEnginePool({ diagnostician, knowledgeRoot, script: real, timeoutSeconds: 60 });
    await pool.ready();
    const input = caseOf({
      setup: { fibre: 'cotton', count: '20 Ne' },
      observations: { 'end-breaks': 'marked' },
    });
    const [there, here] = await Promise.all([pool.diagnose(input), diagnostician.diagnose(input)]);
    const timeless = {
      ...here,
      inference: { ...here.inference, milliseconds: there.inference.milliseconds },
    };
    expect(there).toEqual(JSON.parse(JSON.stringify(timeless)));
    expect((await pool.report(input)).margins.length).toBeGreaterThan(0);
    // What the bench asks is cut from the same answers.
    const { bench } = pool;
    const own = openBench(diagnostician);
    const plain = (value: unknown) => JSON.parse(JSON.stringify(value));
    const [first] = here.causes;
    expect(await bench.answer(input)).toEqual(plain(await own.answer(input)));
    expect(await bench.next(input, [])).toEqual(plain(await own.next(input, [])));
    expect(await bench.whole(input, [])).toEqual(plain(await own.whole(input, [])));
    expect(await bench.cause(input, first?.id ?? '')).toMatchObject({ cause: { ledger: first?.ledger } });
    expect(await bench.cause(input, 'no-such-cause')).toBeUndefined();
    // A table of breaks, too, is read and judged over there.
    const bytes = new TextEncoder().encode(SAMPLES.positions.make());
    const { mapping, leaveOut, without, options } = readTableQuery(
      new URLSearchParams(),
      inspectTable(bytes).proposal,
    );
    const table = { bytes, mapping, leaveOut, without, options };
    const judgement = await pool.judgeTable(table);
    expect(judgement).toEqual(await judgeTable(table));
    expect('breaks' in judgement && judgement.breaks).toBeGreaterThan(10);
    const refused = await pool.judgeTable({ ...table, bytes: new TextEncoder().encode('nothing\n') });
    expect(refused).toHaveProperty('problem');
  });

  it('reasons from the knowledge it was given, whatever has become of the files', async () => {
    pool = startEnginePool({ diagnostician, knowledgeRoot: '/nowhere', script: real, timeoutSeconds: 60 });
    await pool.ready();
    const input = caseOf({ setup: { fibre: 'cotton', count: '20 Ne' }, observations: { hairy: 'marked' } });
    const [there, here] = await Promise.all([
      pool.sensitivities(input, ['wax-fault']),
      openWorkshop(diagnostician.knowledge, knowledgeRoot).sensitivities(input, ['wax-fault']),
    ]);
    expect(there).toEqual(JSON.parse(JSON.stringify(here)));
    expect(
      there.sensitivities.some((one) => one.what.includes('wax') || one.file.includes('wax-fault')),
    ).toBe(true);
    expect((await pool.lint())[0]?.code).toBe('unreadable');
  });

  it('works the training room out on the other thread, refusals included', async () => {
    pool = startEnginePool({ diagnostician, knowledgeRoot, script: real, timeoutSeconds: 60 });
    await pool.ready();
    const room = openTrainingRoom(
      diagnostician,
      loadTraining(knowledgeRoot, diagnostician.knowledge, diagnostician.vocabulary),
    );
    const here = workIn(room);
    const number = { level: 1, seed: 3 } as const;
    const [there, own] = await Promise.all([pool.training.deal(number), here.deal(number)]);
    expect(there).toEqual(JSON.parse(JSON.stringify(own)));
    const moves = [{ check: 'groove-look' }];
    expect(await pool.training.play(there, moves)).toEqual(
      JSON.parse(JSON.stringify(await here.play(own, moves))),
    );
    await expect(pool.training.deal({ level: 1, seed: 0 })).rejects.toThrow(TrainingError);
  });

  it('answers every question with its own answer', async () => {
    pool = startEnginePool({ diagnostician, knowledgeRoot, script: unruly });
    const titles = Array.from({ length: 20 }, (_, i) => `case ${i}`);
    const answers = await Promise.all(titles.map((title) => pool?.rank(titled(title))));
    expect(answers.map((answer) => answer?.title)).toEqual(titles);
  });

  it('passes a fault on and goes on', async () => {
    pool = startEnginePool({ diagnostician, knowledgeRoot, script: unruly });
    await expect(pool.rank(titled('fault'))).rejects.toThrow(EngineFault);
    await expect(pool.rank(titled('fine'))).resolves.toMatchObject({ title: 'fine' });
  });

  it('replaces a worker that died, in whichever way', async () => {
    pool = startEnginePool({ diagnostician, knowledgeRoot, script: unruly });
    for (const death of ['die', 'throw', 'die', 'throw', 'die']) {
      await expect(pool.rank(titled(death))).rejects.toThrow(EngineFault);
      await expect(pool.rank(titled('fine'))).resolves.toMatchObject({ title: 'fine' });
    }
  });

  it('gives up on an answer that does not come, and answers the next question', async () => {
    pool = startEnginePool({ diagnostician, knowledgeRoot, script: unruly, timeoutSeconds: 0.3 });
    await expect(pool.rank(titled('hang'))).rejects.toThrow(EngineTimeout);
    pool = startEnginePool({ diagnostician, knowledgeRoot, script: unruly, timeoutSeconds: 30 });
    await expect(pool.rank(titled('fine'))).resolves.toMatchObject({ title: 'fine' });
  });

  it('answers rankings and pages while long work is going on', async () => {
    pool = startEnginePool({ diagnostician, knowledgeRoot, script: unruly, workers: 1 });
    await pool.ready();
    const plan = pool.plan(titled('hang'), {} as PlanRequest);
    plan.catch(() => {});
    await expect(pool.rank(titled('quick'))).resolves.toMatchObject({ title: 'quick' });
    await expect(pool.diagnose(titled('page'))).resolves.toMatchObject({ title: 'page' });
    expect(pool.load()).toMatchObject({ busy: 1, waiting: 0, threads: 2 });
  });

  it('tells how busy it is, and what became of every question', async () => {
    const told: string[] = [];
    const times: number[] = [];
    pool = startEnginePool({
      diagnostician,
      knowledgeRoot,
      script: unruly,
      timeoutSeconds: 2,
      watch: {
        begun: (ask, waited) => {
          told.push(`${ask} begun`);
          times.push(waited);
        },
        ended: (ask, seconds, outcome) => {
          told.push(`${ask} ${outcome}`);
          times.push(seconds);
        },
      },
    });
    await pool.ready();
    await pool.rank(titled('fine'));
    expect(pool.load()).toMatchObject({ waiting: 0, busy: 0, ready: pool.load().threads });
    await pool.rank(titled('fault')).catch(() => {});
    const slow = pool.diagnose(titled('hang')).catch(() => {});
    expect(pool.load()).toMatchObject({ busy: 1 });
    await slow;
    expect(told).toEqual([
      'rank begun',
      'rank done',
      'rank begun',
      'rank fault',
      'diagnose begun',
      'diagnose timeout',
    ]);
    expect(Math.min(...times)).toBeGreaterThanOrEqual(0);
    expect(times.at(-1)).toBeGreaterThan(1.9);
  });

  it('refuses questions when its worker cannot start, and after it was closed', async () => {
    pool = startEnginePool({ diagnostician, knowledgeRoot, script: `${unruly}.missing` });
    await expect(pool.rank(titled('any'))).rejects.toThrow(EngineFault);
    await pool.close();
    await expect(pool.rank(titled('any'))).rejects.toThrow('stopping');
  });
});

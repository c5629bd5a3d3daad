import { type Journal, openCase, recordStep } from '../../../src/journal/index.js';
import { storeOf } from '../../../src/journal/store.js';
import { putRows, type Row, type TableName } from '../../../src/journal/upkeep/row-pages.js';
import { cause, causes, DAYS, draw, frame, instant, LOTS, POSITIONS, whole } from './mill.js';

const MODELS = 60;
const AT_A_TIME = 2000;

/** Cases recorded step by step as people would, and then copied with other times, frames and causes. */
export async function fillCases(journal: Journal, count: number): Promise<void> {
  await recordModels(journal);
  await copyCases(journal, count - MODELS);
}

async function recordModels(into: Journal): Promise<void> {
  const who = (day: number) => ({ who: 'bench', at: instant(day) });
  for (let n = 0; n < MODELS; n++) {
    const weights = causes.map(() => draw());
    const sum = weights.reduce((total, weight) => total + weight, 0);
    let record = await openCase(
      into,
      {
        title: `More end breaks while running, ${n}`,
        frame: 'frame-1',
        lot: 'lot-1',
        note: 'Since the new lot came in, mostly on the left side of the frame.',
        diagnosis: {
          input: { setup: { fibre: 'cotton', count: '20 Ne' }, observations: { 'end-breaks': 'marked' } },
          diagnosis: {
            knowledgeVersion: 'bench',
            causes: causes.map((id, c) => ({ id, probability: (weights[c] ?? 0) / sum })),
          },
        },
      },
      who(1),
    );
    const take = async (step: Parameters<typeof recordStep>[2]) => {
      record = await recordStep(into, { id: record.id, seen: record.version }, step, who(1.2));
    };
    await take({ step: 'check-made', check: 'nozzle-look', outcomes: ['polished'], minutes: 10 });
    await take({ step: 'action-taken', action: 'replace-nozzle', minutes: 30 });
    await take({ step: 'closed', cause: 'cause-0', how: 'by-part', cost: { rotorHours: 20, wasteKg: 3 } });
  }
}

const PARTS = ['entries', 'case_causes', 'case_checks', 'diagnoses'] as const;

async function copyCases(journal: Journal, count: number): Promise<void> {
  const { db } = storeOf(journal);
  const all = async (table: TableName) =>
    (await db
      .selectFrom(table as 'frames')
      .selectAll()
      .execute()) as unknown as Row[];
  const models = await all('cases');
  const idColumn = (table: TableName) => (table === 'entries' ? 'subject' : 'case_id');
  const parts = new Map<string, Row[]>();
  for (const table of PARTS) {
    const rows = await all(table);
    for (const { id } of models)
      parts.set(
        `${table} ${id}`,
        rows.filter((row) => row[idColumn(table)] === id),
      );
  }
  for (let start = 0; start < count; start += AT_A_TIME) {
    const cases: Row[] = [];
    const rows: Record<(typeof PARTS)[number], Row[]> = {
      entries: [],
      case_causes: [],
      case_checks: [],
      diagnoses: [],
    };
    for (let n = start; n < Math.min(count, start + AT_A_TIME); n++) {
      const model = models[n % models.length] as Row;
      const copy = copyOf(model, n, count);
      cases.push(copy);
      for (const table of PARTS) {
        if (table === 'case_causes' && copy.cause === null) continue;
        for (const row of parts.get(`${table} ${model.id}`) ?? [])
          rows[table].push({
            ...row,
            [idColumn(table)]: copy.id ?? null,
            ...(table === 'case_causes' ? { cause: copy.cause ?? null } : {}),
          });
      }
    }
    await db.transaction().execute(async (trx) => {
      await putRows(trx, 'cases', cases);
      for (const table of PARTS) await putRows(trx, table, rows[table]);
    });
    if (start > 0 && start % 20_000 === 0) console.log(`  ${start} cases`);
  }
}

function copyOf(model: Row, n: number, count: number): Row {
  const number = MODELS + n + 1;
  const id = `case-${number}`;
  // In the order of time, as a journal fills.
  const day = ((n + draw()) / count) * DAYS;
  const open = n % 200 === 0;
  return {
    ...model,
    id,
    number,
    opened_at: instant(day),
    changed_at: instant(day + 0.2),
    frame: frame(),
    position: draw() < 0.3 ? 1 + whole(POSITIONS) : null,
    lot: `lot-${1 + whole(LOTS)}`,
    nozzle_hours: whole(25_000),
    minutes: 10 + whole(100),
    rotor_hours: whole(200),
    waste_kg: whole(30),
    search: `${id} \n${String(model.search).slice(String(model.search).indexOf('\n') + 1)} ${n % 97 === 0 ? 'moiré' : ''}`,
    ...(open
      ? {
          state: 'acting',
          closed_at: null,
          outcome: null,
          cause: null,
          how: null,
          first_given: null,
          first_place: null,
          find_minutes: null,
          fix_minutes: null,
        }
      : {
          closed_at: instant(day + 0.2),
          cause: cause(),
          // To the thousandth of a minute, as the clock gives them.
          find_minutes: whole(300_000) / 1000,
          fix_minutes: whole(3_000_000) / 1000,
        }),
  };
}

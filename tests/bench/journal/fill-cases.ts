import { type RawBuilder, sql } from 'kysely';
import { type Journal, openCase, recordStep } from '../../../src/journal/index.js';
import { storeOf } from '../../../src/journal/store.js';
import type { Row } from '../../../src/journal/upkeep/row-pages.js';
import { numbers, putMany, unhurried } from './bulk.js';
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

/** Copies of the models: their rows are made here, what hangs on them is copied by the engine. */
async function copyCases(journal: Journal, count: number): Promise<void> {
  const store = storeOf(journal);
  const models = (await store.db
    .selectFrom('cases')
    .selectAll()
    .orderBy('number')
    .execute()) as unknown as Row[];
  const text = await store.db.selectFrom('case_texts').select('search').executeTakeFirstOrThrow();
  // The words of a case begin with its id.
  const words = text.search.slice(text.search.indexOf('\n'));
  for (let start = 0; start < count; start += AT_A_TIME) {
    const end = Math.min(count, start + AT_A_TIME);
    const rows: Row[] = [];
    for (let n = start; n < end; n++) rows.push(copyOf(models[n % MODELS] as Row, n, count));
    await putMany(store, 'cases', rows);
    await putMany(
      store,
      'case_texts',
      rows.map(({ opened_at = null, id = null, number }) => ({
        opened_at,
        case_id: id,
        search: `${id} ${words} ${Number(number) % 97 === 0 ? 'moiré' : ''}`,
      })),
    );
    if (end % 20_000 === 0) console.log(`  ${end} cases`);
  }
  // Case n is a copy of the model with this number. A cross join is carried out in the order in which it stands.
  const copies = sql`${numbers(store.engine, 0, count)} cross join`;
  const of = (column: string) => sql`where ${sql.ref(column)} = 'case-' || (n % ${sql.lit(MODELS)} + 1)`;
  const id = sql`'case-' || (n + ${sql.lit(MODELS + 1)})`;
  const put = async (what: string, statement: RawBuilder<unknown>) => {
    await unhurried(store, (trx) => statement.execute(trx));
    console.log(`  their ${what}`);
  };
  await put(
    'steps',
    sql`insert into entries (kind, subject, version, at, recorded, who, step, data, supersedes)
      select kind, ${id}, version, at, recorded, who, step, data, supersedes
      from ${copies} entries ${of('subject')} and kind = 'case'`,
  );
  await put(
    'checks',
    sql`insert into case_checks (case_id, check_id) select ${id}, check_id from ${copies} case_checks ${of('case_id')}`,
  );
  await put(
    'diagnoses',
    sql`insert into diagnoses (case_id, number, at, who, knowledge_version, input, ranked, body)
      select ${id}, number, at, who, knowledge_version, input, ranked, body
      from ${copies} diagnoses ${of('case_id')}`,
  );
  await put(
    'causes',
    sql`insert into case_causes (case_id, cause, main)
      select id, cause, 1 from cases where cause is not null and number > ${MODELS}`,
  );
}

function copyOf(model: Row, n: number, count: number): Row {
  const number = MODELS + n + 1;
  const id = `case-${number}`;
  // In the order of time, as a journal fills.
  const day = ((n + draw()) / count) * DAYS;
  const open = n % 200 === 0;
  const nozzleHours = whole(25_000);
  return {
    ...model,
    id,
    number,
    opened_at: instant(day),
    changed_at: instant(day + 0.2),
    frame: frame(),
    position: draw() < 0.3 ? 1 + whole(POSITIONS) : null,
    lot: `lot-${1 + whole(LOTS)}`,
    nozzle_hours: nozzleHours,
    nozzle_age: Math.floor(nozzleHours / 5000),
    minutes: 10 + whole(100),
    rotor_hours: whole(200),
    waste_kg: whole(30),
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

import { type Entry, entriesOf, notFound } from '../entries.js';
import { unpackJson } from '../json.js';
import { type Journal, read } from '../store.js';
import { CASE_COLUMNS, type CaseRecord, toCase } from './case-rows.js';
import type { KeptDiagnosis, Ranked } from './ranked.js';
import { type CountedStep, countedSteps, nextSteps, replayCase } from './replay.js';
import type { CaseStepName } from './steps.js';

/** A diagnosis kept on a case, without its body. */
export interface DiagnosisSummary {
  readonly number: number;
  readonly at: string;
  readonly who: string;
  readonly knowledgeVersion: string;
  readonly ranked: Ranked;
}

/** A case with everything that happened to it. */
export interface CaseDetail extends CaseRecord {
  /** The steps that count, oldest first. */
  readonly steps: readonly CountedStep[];
  /** Every entry as written, corrections and what they corrected among them. */
  readonly entries: readonly Entry[];
  readonly diagnoses: readonly DiagnosisSummary[];
  /** Ids of the complaints that this case is linked to. */
  readonly complaints: readonly string[];
  /** Steps that can be recorded now. */
  readonly next: readonly CaseStepName[];
}

/** One case with its steps and diagnoses. @throws JournalError `not-found` */
export async function findCase(journal: Journal, id: string): Promise<CaseDetail> {
  return read(journal, async (db) => {
    const row = await db.selectFrom('cases').select(CASE_COLUMNS).where('id', '=', id).executeTakeFirst();
    if (row === undefined) throw notFound('case', id);
    const entries = await entriesOf(db, 'case', id);
    const known = entries.filter((entry) => entry.version <= row.version);
    const steps = countedSteps(known);
    const diagnoses = await db
      .selectFrom('diagnoses')
      .select(['number', 'at', 'who', 'knowledge_version', 'ranked'])
      .where('case_id', '=', id)
      .orderBy('number')
      .execute();
    const complaints = await db
      .selectFrom('complaint_cases')
      .select('complaint')
      .where('case_id', '=', id)
      .orderBy('complaint')
      .execute();
    const standing = replayCase(steps);
    return {
      ...toCase(row),
      ...standing,
      steps,
      entries: known,
      diagnoses: diagnoses.map((one) => ({
        number: one.number,
        at: one.at,
        who: one.who,
        knowledgeVersion: one.knowledge_version,
        ranked: JSON.parse(one.ranked) as Ranked,
      })),
      complaints: complaints.map((one) => one.complaint),
      next: nextSteps(standing.state),
    };
  });
}

/** Several cases as lists show them, by id, without their steps; those that there are not are left out. */
export async function findCaseRecords(
  journal: Journal,
  ids: readonly string[],
): Promise<ReadonlyMap<string, CaseRecord>> {
  if (ids.length === 0) return new Map();
  const rows = await read(journal, (db) =>
    db.selectFrom('cases').select(CASE_COLUMNS).where('id', 'in', ids).execute(),
  );
  return new Map(rows.map((row) => [row.id, toCase(row)]));
}

/** A diagnosis as it was: what it was made from and all it said. */
export interface FullDiagnosis extends DiagnosisSummary {
  readonly input: Readonly<Record<string, unknown>>;
  /** As it was handed in; what it holds beyond the least is for the caller to know. */
  readonly diagnosis: KeptDiagnosis;
}

/** One kept diagnosis in full; the number left out: the last one. @throws JournalError `not-found` */
export async function findDiagnosis(journal: Journal, id: string, number?: number): Promise<FullDiagnosis> {
  return read(journal, async (db) => {
    let query = db.selectFrom('diagnoses').selectAll().where('case_id', '=', id);
    if (number !== undefined) query = query.where('number', '=', number);
    const row = await query.orderBy('number', 'desc').limit(1).executeTakeFirst();
    if (row === undefined) throw notFound('diagnosis', number === undefined ? id : `${id}, number ${number}`);
    return {
      number: row.number,
      at: row.at,
      who: row.who,
      knowledgeVersion: row.knowledge_version,
      ranked: JSON.parse(row.ranked) as Ranked,
      input: JSON.parse(row.input) as Record<string, unknown>,
      diagnosis: unpackJson(row.body) as KeptDiagnosis,
    };
  });
}

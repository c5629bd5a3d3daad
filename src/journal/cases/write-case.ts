import { z } from 'zod';
import { say } from '../../language/say.js';
import { addEntry, entriesOf, type NewEntry, nextNumber, notFound, takeVersion } from '../entries.js';
import { JournalError } from '../errors.js';
import { type By, plainText, readInput } from '../input.js';
import { packJson } from '../json.js';
import { requireLinked, requirePositions } from '../mill/linked.js';
import { type Journal, type Writing, write } from '../store.js';
import { type CaseRecord, caseRow, searchText } from './case-rows.js';
import { type KeptDiagnosis, type Ranked, rankedOf } from './ranked.js';
import { countedSteps, replayCase } from './replay.js';
import { type DiagnosedStep, openedSchema, type StepInput, stepSchema } from './steps.js';

/** A diagnosis to keep: the case file it was made from, and all it said. */
export interface DiagnosisToKeep {
  /** The case file, as data. */
  readonly input: Readonly<Record<string, unknown>>;
  readonly diagnosis: KeptDiagnosis;
}

/** What a case is opened with. */
export const newCaseSchema = openedSchema.omit({ step: true });
export type NewCase = z.input<typeof newCaseSchema> & { readonly diagnosis?: DiagnosisToKeep };

/** Opens a case, with its first diagnosis when there is one. @throws JournalInputError; JournalError `not-found` */
export async function openCase(journal: Journal, newCase: NewCase, by: By): Promise<CaseRecord> {
  const { diagnosis, ...fields } = newCase;
  const input = readInput(newCaseSchema, fields, 'case');
  const kept = diagnosis === undefined ? undefined : prepare(diagnosis);
  return write(journal, by, { openCase: input, diagnosis }, async (writing) => {
    await requireLinked(writing.trx, input);
    const number = await nextNumber(writing, 'case');
    const id = `case-${number}`;
    await addEntry(writing, 'case', id, 1, { step: 'opened', data: { step: 'opened', ...input } });
    await writing.trx
      .insertInto('cases')
      .values({
        id,
        number,
        version: 1,
        changed_at: writing.recorded,
        ...caseRow(replayCase(countedSteps(await entriesOf(writing.trx, 'case', id))), {
          first: undefined,
          last: undefined,
        }),
      })
      .execute();
    if (kept !== undefined) await keep(writing, id, 2, kept);
    return settle(writing, id);
  });
}

/** The version of a thing that the writer saw. */
export interface Seen {
  readonly id: string;
  readonly seen: number;
}

/**
 * Records a step on a case.
 * @throws StaleError when the case was changed since the version seen; JournalError `refused` when the step cannot be
 * taken where the case stands
 */
export async function recordStep(journal: Journal, on: Seen, step: StepInput, by: By): Promise<CaseRecord> {
  const input = readInput(stepSchema, step, 'step');
  return write(journal, by, { recordStep: input, on }, async (writing) => {
    const version = await takeVersion(writing, 'case', on.id, on.seen);
    await addEntry(writing, 'case', on.id, version, { step: input.step, data: input });
    return settle(writing, on.id, input);
  });
}

/** Keeps a further diagnosis on a case, made when more was known. @throws as {@link recordStep} */
export async function recordDiagnosis(
  journal: Journal,
  on: Seen,
  diagnosis: DiagnosisToKeep,
  by: By,
): Promise<CaseRecord> {
  const kept = prepare(diagnosis);
  return write(journal, by, { recordDiagnosis: diagnosis, on }, async (writing) => {
    const version = await takeVersion(writing, 'case', on.id, on.seen);
    await keep(writing, on.id, version, kept);
    return settle(writing, on.id);
  });
}

const openedStepSchema = z.discriminatedUnion('step', [openedSchema, ...stepSchema.options]);

/**
 * Corrects a step: the old entry stays, and the new one counts in its place. With `replacement` null the step is
 * withdrawn. The case must still make sense with the correction in it.
 * @param version the version of the entry to correct: the step as first written, or an earlier correction of it
 * @throws as {@link recordStep}; `refused` when the step is a diagnosis, of another kind, or does not exist
 */
export async function correctStep(
  journal: Journal,
  on: Seen,
  version: number,
  replacement: StepInput | z.input<typeof openedSchema> | null,
  why: string,
  by: By,
): Promise<CaseRecord> {
  const input = replacement === null ? null : readInput(openedStepSchema, replacement, 'step');
  const reason = readInput(plainText(1000).min(1), why, 'why');
  return write(journal, by, { correctStep: input, on, version, reason }, async (writing) => {
    const taken = await takeVersion(writing, 'case', on.id, on.seen);
    const old = (await entriesOf(writing.trx, 'case', on.id)).find((entry) => entry.version === version);
    if (old === undefined) throw notFound('step', `${on.id}, version ${version}`);
    const name = old.supersedes === null ? old.step : (old.data as { of: string }).of;
    if (name === 'diagnosed') throw new JournalError('refused', say('refused.diagnosis-kept'));
    if (input !== null && input.step !== name)
      throw new JournalError('refused', say('refused.step-turned', { step: name, into: input.step }));
    const entry: NewEntry = {
      step: input === null ? 'withdrawn' : 'corrected',
      data: { of: name, why: reason, replacement: input },
      supersedes: version,
    };
    await addEntry(writing, 'case', on.id, taken, entry);
    return settle(writing, on.id, input);
  });
}

interface PreparedDiagnosis {
  readonly input: string;
  readonly knowledgeVersion: string;
  readonly ranked: Ranked;
  readonly body: Buffer;
}

/** Packs a diagnosis before the transaction begins, so that it stays short. */
const prepare = ({ input, diagnosis }: DiagnosisToKeep): PreparedDiagnosis => ({
  input: JSON.stringify(input),
  knowledgeVersion: diagnosis.knowledgeVersion,
  ranked: rankedOf(diagnosis),
  body: packJson(diagnosis),
});

async function keep(writing: Writing, id: string, version: number, kept: PreparedDiagnosis): Promise<void> {
  const { trx, who, at } = writing;
  const { last } = await trx
    .selectFrom('diagnoses')
    .select((eb) => eb.fn.max('number').as('last'))
    .where('case_id', '=', id)
    .executeTakeFirstOrThrow();
  const number = (last ?? 0) + 1;
  await trx
    .insertInto('diagnoses')
    .values({
      case_id: id,
      number,
      at,
      who,
      knowledge_version: kept.knowledgeVersion,
      input: kept.input,
      ranked: JSON.stringify(kept.ranked),
      body: kept.body,
    })
    .execute();
  const [top] = kept.ranked;
  const step: DiagnosedStep = {
    step: 'diagnosed',
    diagnosis: number,
    knowledgeVersion: kept.knowledgeVersion,
    first: top === undefined ? null : { cause: top[0], probability: top[1] },
  };
  await addEntry(writing, 'case', id, version, { step: 'diagnosed', data: step });
}

/**
 * Brings a case's row in line with its steps, in the same transaction, and gives the case as it now stands.
 * @param written the step just written, when it names positions that must be on the frame
 */
async function settle(
  writing: Writing,
  id: string,
  written?: { readonly step: string; readonly positions?: readonly number[] } | null,
): Promise<CaseRecord> {
  const { trx, recorded } = writing;
  const entries = await entriesOf(trx, 'case', id);
  const steps = countedSteps(entries);
  const standing = replayCase(steps);
  await requireLinked(trx, standing);
  await requirePositions(trx, standing.frame, written?.positions ?? [], 'step.positions');
  const diagnoses = await trx
    .selectFrom('diagnoses')
    .select('ranked')
    .where('case_id', '=', id)
    .orderBy('number')
    .execute();
  const ranked = diagnoses.map((row) => JSON.parse(row.ranked) as Ranked);
  const row = caseRow(standing, { first: ranked[0], last: ranked.at(-1) });
  const version = entries.at(-1)?.version ?? 0;
  const { number } = await trx
    .updateTable('cases')
    .set({
      ...row,
      version,
      changed_at: recorded,
    })
    .where('id', '=', id)
    .returning('number')
    .executeTakeFirstOrThrow();
  const search = searchText([
    id,
    standing.title,
    standing.frame,
    standing.section,
    standing.lot,
    standing.yarn,
    standing.assignee,
    standing.closure?.cause ?? null,
    ...steps.map(({ data }) => ('note' in data ? data.note : 'why' in data ? data.why : null)),
  ]);
  await trx
    .insertInto('case_texts')
    .values({ opened_at: standing.openedAt, case_id: id, search })
    .onConflict((conflict) => conflict.columns(['opened_at', 'case_id']).doUpdateSet({ search }))
    .execute();
  await putCauses(writing, id, standing.closure);
  await putChecks(writing, id, standing.checks);
  return {
    ...standing,
    id,
    number,
    version,
    changedAt: recorded,
    findMinutes: row.find_minutes,
    fixMinutes: row.fix_minutes,
    firstRanking: placeIn(row, 'first'),
    lastRanking: placeIn(row, 'last'),
  };
}

function placeIn(row: ReturnType<typeof caseRow>, which: 'first' | 'last'): CaseRecord['firstRanking'] {
  const cause = row[`${which}_cause`];
  const probability = row[`${which}_probability`];
  if (cause === null || probability === null) return null;
  return { cause, probability, place: row[`${which}_place`], given: row[`${which}_given`] };
}

async function putCauses({ trx }: Writing, id: string, closure: CaseRecord['closure']): Promise<void> {
  await trx.deleteFrom('case_causes').where('case_id', '=', id).execute();
  if (closure === null || closure.cause === null) return;
  const others = [...new Set(closure.contributing)].map((cause) => ({ case_id: id, cause, main: 0 }));
  await trx
    .insertInto('case_causes')
    .values([{ case_id: id, cause: closure.cause, main: 1 }, ...others])
    .execute();
}

async function putChecks({ trx }: Writing, id: string, checks: readonly string[]): Promise<void> {
  await trx.deleteFrom('case_checks').where('case_id', '=', id).execute();
  if (checks.length > 0)
    await trx
      .insertInto('case_checks')
      .values(checks.map((check) => ({ case_id: id, check_id: check })))
      .execute();
}

import { type CaseDetail, type FullDiagnosis, findDiagnosis, type Journal } from '../../journal/index.js';
import { type Keeping, keepLast } from '../../rules/keep-last.js';
import { strongestEntry } from '../views/brief-answer.js';
import { asDiagnosis, asRanking } from './kept-case.js';

/** Causes of a kept ranking that the page of a case shows, and those that its next steps are taken from. */
export const CAUSES_SHOWN = 5;
export const CAUSES_ASKED = 3;

/** Diagnoses kept in brief, some kilobytes each. */
const MOST = 300;
const kept = new WeakMap<Journal, Keeping<FullDiagnosis>>();

/**
 * The last diagnosis of a case as far as its page shows it; undefined when it has none. A kept diagnosis never changes,
 * and to unpack a whole one takes as long as the rest of the page.
 */
export async function lastDiagnosis(
  journal: Journal,
  record: Pick<CaseDetail, 'id' | 'diagnoses'>,
): Promise<FullDiagnosis | undefined> {
  const last = record.diagnoses.at(-1);
  if (last === undefined) return undefined;
  const ofJournal = kept.get(journal) ?? keepLast<FullDiagnosis>(MOST);
  kept.set(journal, ofJournal);
  const { number, at, who, knowledgeVersion } = last;
  return ofJournal(JSON.stringify([record.id, number, at, who, knowledgeVersion]), async () =>
    inBrief(await findDiagnosis(journal, record.id, number)),
  );
}

/** The same without what no page of a case shows: a hundredth of the whole. */
function inBrief(full: FullDiagnosis): FullDiagnosis {
  const ranking = asRanking(full.diagnosis);
  if (ranking === undefined) return full;
  const diagnosis = asDiagnosis(full.diagnosis);
  let shown = 0;
  // The language of a diagnosis is told by the names of all its families.
  const families = new Set<string>();
  const isNew = (family: string) => families.size < families.add(family).size;
  const causes = ranking.causes
    .filter((cause, n) => {
      const shows = cause.ruledOut === undefined && shown++ < CAUSES_SHOWN;
      return isNew(`${cause.family} ${cause.familyLabel}`) || shows || n < CAUSES_ASKED;
    })
    .map((cause) => {
      const { id, label, family, familyLabel, probability, checks, actions, ruledOut } = cause;
      const entry = strongestEntry(cause);
      return {
        ...{ id, label, family, familyLabel, probability, checks, actions },
        ...(ruledOut === undefined ? {} : { ruledOut }),
        ledger: entry === undefined ? [] : [entry],
      };
    });
  const brief = {
    knowledgeVersion: full.diagnosis.knowledgeVersion,
    summary: ranking.summary,
    causes,
    ...(diagnosis === undefined
      ? {}
      : {
          checks: diagnosis.checks.map(({ id }) => ({ id })),
          actions: diagnosis.actions.map(({ id, forbidden }) =>
            forbidden === undefined ? { id } : { id, forbidden },
          ),
        }),
  };
  return { ...full, diagnosis: brief };
}

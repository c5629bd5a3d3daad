import {
  type CaseRecord,
  type ComplaintFilter,
  type ComplaintRecord,
  findCase,
  findCaseRecords,
  type Journal,
  searchComplaints,
} from '../../journal/index.js';

/** Complaints that go back to one root cause, what its cases cost, and how many were fixed. */
export interface ComplaintCause {
  /** Null: not traced yet. `none`: traced, to something the knowledge base does not have. */
  readonly cause: string | null | 'none';
  readonly complaints: readonly ComplaintRecord[];
  readonly claimedKg: number;
  /** The cases named as the place where the cause was found. */
  readonly cases: readonly CaseRecord[];
  readonly cost: { readonly minutes: number; readonly rotorHours: number; readonly wasteKg: number };
  readonly fixed: {
    readonly yes: number;
    readonly partly: number;
    readonly no: number;
    readonly open: number;
  };
}

export interface ComplaintAnswer {
  readonly complaints: number;
  readonly claimedKg: number;
  readonly causes: readonly ComplaintCause[];
  readonly customers: readonly string[];
  /** True when there were more complaints than are looked at. */
  readonly cut: boolean;
}

/** Most complaints looked at in one answer. */
const MOST = 1000;

/**
 * What caused complaints, what it cost and whether it was fixed. The cost is that of the cases in which the root causes
 * were found, each counted once however many complaints go back to it.
 * @param options `wholeCases`: these cases come with their steps and rankings, for who takes the answer along
 */
export async function answerComplaints(
  journal: Journal,
  filter: ComplaintFilter,
  options: { readonly wholeCases?: boolean } = {},
): Promise<ComplaintAnswer> {
  const complaints: ComplaintRecord[] = [];
  let after: string | null = null;
  do {
    const page: Awaited<ReturnType<typeof searchComplaints>> = await searchComplaints(journal, filter, {
      size: 200,
      ...(after === null ? {} : { after }),
    });
    complaints.push(...page.rows);
    after = page.next;
  } while (after !== null && complaints.length < MOST);
  const groups = new Map<string | null, ComplaintRecord[]>();
  for (const complaint of complaints) {
    const key = complaint.rootCause === null ? null : (complaint.rootCause.cause ?? 'none');
    groups.set(key, [...(groups.get(key) ?? []), complaint]);
  }
  const ids = [...new Set(complaints.flatMap((one) => one.rootCause?.case ?? []))];
  const cases = await (options.wholeCases === true ? findWholeCases : findCaseRecords)(journal, ids);
  const causes = [...groups].map(([cause, own]): ComplaintCause => {
    const found = [...new Set(own.map((one) => one.rootCause?.case ?? null))].flatMap((id) => {
      const record = id === null ? undefined : cases.get(id);
      return record === undefined ? [] : [record];
    });
    const sum = (value: (record: CaseRecord) => number) =>
      found.reduce((total, one) => total + value(one), 0);
    const count = (fixed: 'yes' | 'partly' | 'no') =>
      own.filter((one) => one.verification?.fixed === fixed).length;
    return {
      cause,
      complaints: own,
      claimedKg: own.reduce((total, one) => total + (one.claimedKg ?? 0), 0),
      cases: found,
      cost: {
        minutes: sum((one) => one.cost.minutes),
        rotorHours: sum((one) => one.cost.rotorHours),
        wasteKg: sum((one) => one.cost.wasteKg),
      },
      fixed: {
        yes: count('yes'),
        partly: count('partly'),
        no: count('no'),
        open: own.filter((one) => one.verification === null).length,
      },
    };
  });
  return {
    complaints: complaints.length,
    claimedKg: complaints.reduce((total, one) => total + (one.claimedKg ?? 0), 0),
    causes: causes.sort(
      (a, b) =>
        Number(a.cause === null) - Number(b.cause === null) ||
        b.complaints.length - a.complaints.length ||
        b.claimedKg - a.claimedKg,
    ),
    customers: [...new Set(complaints.map((one) => one.customer))].sort(),
    cut: after !== null,
  };
}

async function findWholeCases(journal: Journal, ids: readonly string[]): Promise<Map<string, CaseRecord>> {
  const cases = new Map<string, CaseRecord>();
  for (const id of ids) cases.set(id, await findCase(journal, id));
  return cases;
}

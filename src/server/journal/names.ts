import {
  type FrameRecord,
  type Journal,
  type LotRecord,
  listFrames,
  listLots,
  listYarns,
  type YarnRecord,
} from '../../journal/index.js';

/** Names of the mill's frames, yarns and lots by id, retired ones too, in the order in which lists show them. */
export interface Names {
  readonly frames: ReadonlyMap<string, string>;
  readonly yarns: ReadonlyMap<string, string>;
  readonly lots: ReadonlyMap<string, string>;
}

/** "Frame 2" before "Frame 10". One comparison for all: to set one up takes longer than to compare a mill's names. */
const { compare } = new Intl.Collator('en', { numeric: true });

/** Orders things by name as people count: "Frame 2" before "Frame 10". */
export const byName = (a: { readonly name: string }, b: { readonly name: string }): number =>
  compare(a.name, b.name);

/** What the mill has, as it is on record. */
export interface MillRecords {
  readonly frames: readonly FrameRecord[];
  readonly yarns: readonly YarnRecord[];
  readonly lots: readonly LotRecord[];
}

/** Reads it; a mill has little enough of it to be read at each page. */
export const loadMill = async (journal: Journal): Promise<MillRecords> => ({
  frames: await listFrames(journal),
  yarns: await listYarns(journal),
  lots: await listLots(journal),
});

/** The lot that came last first: lots are many and the latest matter most. */
export const byReceipt = (a: LotRecord, b: LotRecord): number =>
  (a.receivedAt ?? '') < (b.receivedAt ?? '') ? 1 : -1;

/** The names alone, in the order of lists. */
export function namesOf({ frames, yarns, lots }: MillRecords): Names {
  const named = (list: readonly { readonly id: string; readonly name: string }[]) =>
    new Map(list.map(({ id, name }) => [id, name]));
  return {
    frames: named([...frames].sort(byName)),
    yarns: named([...yarns].sort(byName)),
    lots: named([...lots].sort(byReceipt)),
  };
}

/** Reads the names alone. */
export const loadNames = async (journal: Journal): Promise<Names> => namesOf(await loadMill(journal));

import { type Journal, listFrames, listLots, listYarns } from '../../journal/index.js';

/** Names of the mill's frames, yarns and lots by id, retired ones too, in the order in which lists show them. */
export interface Names {
  readonly frames: ReadonlyMap<string, string>;
  readonly yarns: ReadonlyMap<string, string>;
  readonly lots: ReadonlyMap<string, string>;
}

const inOrder = (a: { readonly name: string }, b: { readonly name: string }) =>
  a.name.localeCompare(b.name, 'en', { numeric: true });

/** Reads the names; a mill has few enough of them to be read at each page. */
export async function loadNames(journal: Journal): Promise<Names> {
  const named = (list: readonly { readonly id: string; readonly name: string }[]) =>
    new Map([...list].sort(inOrder).map(({ id, name }) => [id, name]));
  const [frames, yarns, lots] = [
    await listFrames(journal),
    await listYarns(journal),
    await listLots(journal),
  ];
  // Lots are many and the latest matter most.
  const latest = [...lots].sort((a, b) => ((a.receivedAt ?? '') < (b.receivedAt ?? '') ? 1 : -1));
  return {
    frames: named(frames),
    yarns: named(yarns),
    lots: new Map(latest.map(({ id, name }) => [id, name])),
  };
}

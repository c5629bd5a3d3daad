import { findCase, findComplaint, type Journal } from '../../journal/index.js';
import { loadNames } from '../journal/names.js';

/** Shorter names could be any word. */
const SHORTEST = 3;

/** Names that a kept case is tied to: its frame, lot and yarn, the people at it, the customers who complained. */
export async function namesOfCase(journal: Journal, id: string): Promise<string[]> {
  const record = await findCase(journal, id);
  const names = await loadNames(journal);
  const customers = await Promise.all(
    record.complaints.map(async (complaint) => (await findComplaint(journal, complaint)).customer),
  );
  const found = [
    record.title,
    record.assignee,
    record.frame === null ? '' : (names.frames.get(record.frame) ?? record.frame),
    record.lot === null ? '' : (names.lots.get(record.lot) ?? record.lot),
    record.lot ?? '',
    record.yarn === null ? '' : (names.yarns.get(record.yarn) ?? ''),
    ...record.entries.map((entry) => entry.who),
    ...customers,
  ];
  return [...new Set(found.map((name) => name.trim()).filter((name) => name.length >= SHORTEST))];
}

/** Which of the names occur in a text, as words of their own. */
export function namesWithin(text: string, names: readonly string[]): string[] {
  const plain = (one: string) => one.toLowerCase().replace(/\s+/g, ' ');
  const searched = plain(text);
  return names.filter((name) =>
    new RegExp(
      `(?<![\\p{L}\\p{N}])${plain(name).replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}(?![\\p{L}\\p{N}])`,
      'u',
    ).test(searched),
  );
}

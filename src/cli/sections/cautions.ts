import type { CautionText } from '../../rules/index.js';
import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import type { Page } from '../layout/page.js';

/** `rotor-coasts`, `hot-parts` → "rotor coasts, hot parts": the names under which the full texts are listed. */
export function cautionNames(ids: readonly string[]): string {
  return ids.map(plainName).join(', ');
}

const plainName = (id: string) => id.replaceAll('-', ' ');

/** Full texts of the cautions, each once, in the order of the knowledge base. */
export function cautionTexts(ids: Iterable<string>, knowledge: Knowledge): CautionText[] {
  const wanted = new Set(ids);
  return [...knowledge.book.cautions]
    .filter(([id]) => wanted.has(id))
    .map(([id, caution]) => ({ id, text: caution.text }));
}

/** The section that stands before any work is proposed. */
export function writeCautions(page: Page, cautions: readonly CautionText[]): void {
  if (cautions.length === 0) return;
  page.heading('Cautions, before any work');
  for (const { id, text } of cautions)
    page.text(`${plainName(id)}: ${text}`, { first: '  ! ', rest: '    ' });
}

import type { CaseVocabulary } from '../rules/case/types.js';
import type { Diagnostician } from '../rules/diagnostician.js';
import type { Knowledge } from '../rules/knowledge/knowledge.js';
import type { Mill } from '../rules/knowledge/load-mill.js';
import type { PageModels, Shell } from '../templates/models.js';
import type { Assets } from './assets.js';
import { renderPage } from './render.js';

/** What the pages share. */
export interface Site {
  readonly diagnostician: Diagnostician;
  readonly knowledge: Knowledge;
  readonly vocabulary: CaseVocabulary;
  readonly mill: Mill;
  log(line: string): void;
  /** Renders a whole page. */
  page<Name extends keyof PageModels>(
    name: Name,
    shell: { readonly title: string; readonly section: Shell['section']; readonly query?: string },
    model: PageModels[Name],
  ): string;
}

/** Puts the site together. */
export function makeSite(
  diagnostician: Diagnostician,
  mill: Mill,
  assets: Assets,
  log: (line: string) => void,
): Site {
  return {
    diagnostician,
    knowledge: diagnostician.knowledge,
    vocabulary: diagnostician.vocabulary,
    mill,
    log,
    page: (name, shell, model) =>
      renderPage(name, { ...shell, query: shell.query ?? '', assets: assets.urls }, model),
  };
}

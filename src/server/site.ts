import type { Books } from '../rules/books.js';
import type { CaseVocabulary } from '../rules/case/types.js';
import type { Diagnostician } from '../rules/diagnostician.js';
import type { Knowledge } from '../rules/knowledge/knowledge.js';
import type { Mill } from '../rules/knowledge/load-mill.js';
import type { Vignette } from '../rules/knowledge/load-vignettes.js';
import type { TrainingWork } from '../rules/training/index.js';
import type { PageModels, Shell } from '../templates/models.js';
import { type AskedCase, startReading } from './asked-case.js';
import type { Assets } from './assets.js';
import type { BenchEngine } from './bench-engine.js';
import type { JournalKeeper } from './journal/keeper.js';
import type { KnowledgeGate } from './journal/knowledge-gate.js';
import type { Learning } from './journal/learning.js';
import type { KnowledgeState } from './knowledge-state.js';
import { viewLanguage } from './language.js';
import { renderPage } from './render.js';
import { viewPerson } from './views/access/links.js';
import { viewKnowledgeState } from './views/knowledge/state.js';
import type { Workshop } from './workshop.js';

/** What the pages share. One site stands on one version of the knowledge. */
export interface Site {
  readonly diagnostician: Diagnostician;
  /** What the pages of the bench ask. */
  readonly bench: BenchEngine;
  readonly workshop: Workshop;
  /** What the training room works out. Left out: worked out on this thread. */
  readonly training?: TrainingWork;
  /** Its texts are those of the language of the request, as are all texts the site gives. */
  readonly knowledge: Knowledge;
  readonly vocabulary: CaseVocabulary;
  /** The case that the address of a request holds. */
  readCase(url: string): AskedCase;
  /** Plans, places, card and training material of the knowledge. */
  books(): Books;
  /** The frames to choose from: those of the journal, where there is one. */
  readonly mill: Mill;
  readonly journal: JournalKeeper;
  /** Base rates learned from the journal. */
  readonly learning: Learning;
  /** What stands between a changed knowledge base and its use. */
  readonly gate: KnowledgeGate;
  /** To be called when a frame of the journal or its setup was changed. */
  framesChanged(): void;
  readonly vignettes: ReadonlyMap<string, Vignette>;
  knowledgeState(): KnowledgeState;
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
  parts: Omit<Site, 'knowledge' | 'vocabulary' | 'readCase' | 'page'> & { readonly assets: Assets },
): Site {
  const { assets, ...site } = parts;
  return {
    ...site,
    knowledge: site.diagnostician.knowledge,
    vocabulary: site.diagnostician.vocabulary,
    readCase: startReading(site.mill, site.diagnostician.vocabulary),
    page: (name, shell, model) =>
      renderPage(
        name,
        {
          ...shell,
          query: shell.query ?? '',
          assets: assets.urls,
          ...viewLanguage(),
          knowledge: viewKnowledgeState(site.knowledgeState()),
          person: viewPerson(),
        },
        model,
      ),
  };
}

import { Hono } from 'hono';
import { methodNotAllowed } from 'hono/method-not-allowed';
import { SOURCE_LANGUAGE } from '../language/languages.js';
import { inLanguage } from '../language/scope.js';
import { type Books, loadBooks } from '../rules/books.js';
import type { Diagnostician } from '../rules/diagnostician.js';
import { defaultKnowledgeFolder } from '../rules/knowledge/load-knowledge.js';
import type { Mill } from '../rules/knowledge/load-mill.js';
import type { Vignette } from '../rules/knowledge/load-vignettes.js';
import type { TrainingWork } from '../rules/training/index.js';
import { guardAccess } from './access/guard.js';
import { type AccessSettings, OPEN_TO_ANYBODY } from './access/settings.js';
import { answerFault } from './answer-fault.js';
import { apiApp } from './api/app.js';
import { API_BASE } from './api/base.js';
import { loadAssets } from './assets.js';
import { type BenchEngine, openBench } from './bench-engine.js';
import { compressPages } from './compress-pages.js';
import type { PoolLoad } from './engine-pool.js';
import { errorPage } from './errors.js';
import { type JournalKeeper, noJournal } from './journal/keeper.js';
import { type KnowledgeGate, openGate } from './journal/knowledge-gate.js';
import { type Learning, stillLearning } from './journal/learning.js';
import { followFrames } from './journal/live-frames.js';
import { withMillZone } from './journal/mill-clock.js';
import type { KnowledgeState } from './knowledge-state.js';
import { readerLanguage } from './language.js';
import type { Metrics } from './operating/metrics.js';
import { watchReadiness } from './operating/readiness.js';
import { type RequestWatch, watchRequests } from './operating/request-watch.js';
import { operatingRoutes } from './operating/routes.js';
import { accessPages } from './pages/access/index.js';
import { benchPages } from './pages/bench.js';
import { caseFilePages } from './pages/case-file.js';
import { causePages } from './pages/cause.js';
import { convertPages } from './pages/convert.js';
import { countsPages } from './pages/counts.js';
import { countsQuestionPages } from './pages/counts-questions.js';
import { homePages } from './pages/home.js';
import { allJournalPages } from './pages/journal/index.js';
import { knowledgePages } from './pages/knowledge.js';
import { languagePages } from './pages/language.js';
import { planningPages } from './pages/planning.js';
import { sensitivityPages } from './pages/sensitivity.js';
import { setupPages } from './pages/setup.js';
import { trainingPages } from './pages/training.js';
import { rememberAnswers, rememberBench } from './remember.js';
import { giveRequestId } from './request-id.js';
import { guardForms, guardHeaders, keepPrivate } from './security.js';
import { makeSite } from './site.js';
import { openWorkshop, type Workshop } from './workshop.js';

export interface AppParts {
  readonly diagnostician: Diagnostician;
  /** What the pages of the bench ask; of the diagnostician, unless given. */
  readonly bench?: BenchEngine;
  readonly mill: Mill;
  /** Plans, places, card and training material; those supplied, unless given. */
  readonly books?: Books;
  /** Where frames, cases and complaints are kept; none unless given. */
  readonly journal?: JournalKeeper;
  /** Base rates learned from it; shown only, unless given. */
  readonly learning?: Learning;
  /** Trial of changed knowledge; nothing changes, unless given. */
  readonly gate?: KnowledgeGate;
  /** Situations to try the knowledge on; none unless given. */
  readonly vignettes?: ReadonlyMap<string, Vignette>;
  /** Questions of the keeper of the knowledge; answered on this thread, about the base supplied, unless given. */
  readonly workshop?: Workshop;
  /** What the training room works out; on this thread, unless given. */
  readonly training?: TrainingWork;
  /** Which knowledge is in use; the diagnostician's, unless it is exchanged while the server runs. */
  readonly knowledgeState?: () => KnowledgeState;
  /** Whom the server lets in, and under which address browsers see it; anybody unless given. */
  readonly access?: AccessSettings;
  /** Told of every request. */
  readonly watches?: readonly RequestWatch[];
  /** How busy the threads that reason are; none unless given. */
  readonly engineLoad?: (() => PoolLoad) | undefined;
  /** Whether the server is about to stop. */
  readonly stopping?: () => boolean;
  /** Measures; none unless given. */
  readonly metrics?: Metrics;
  /** Secret for reading them from elsewhere; without one only this machine may. */
  readonly metricsToken?: string | undefined;
  /** Where faults are reported; one line or stack at a time. */
  readonly log?: (line: string) => void;
}

/** The web app: middleware and pages, without listening. */
export function createApp(parts: AppParts): Hono {
  const assets = loadAssets();
  const { knowledge } = parts.diagnostician;
  const started: KnowledgeState = { version: knowledge.version, since: new Date(), problems: [] };
  const journal = parts.journal ?? noJournal;
  let books = parts.books;
  const frames = followFrames(journal, parts.mill);
  const site = makeSite({
    diagnostician: rememberAnswers(parts.diagnostician),
    bench: rememberBench(parts.bench ?? openBench(parts.diagnostician)),
    workshop: parts.workshop ?? openWorkshop(knowledge, defaultKnowledgeFolder()),
    ...(parts.training === undefined ? {} : { training: parts.training }),
    mill: frames.mill,
    books: () => {
      books ??= loadBooks(defaultKnowledgeFolder(), knowledge, parts.diagnostician.vocabulary);
      return books;
    },
    journal,
    gate: parts.gate ?? openGate,
    learning: parts.learning ?? stillLearning(knowledge),
    framesChanged: frames.forget,
    vignettes: parts.vignettes ?? new Map(),
    assets,
    log: parts.log ?? console.error,
    knowledgeState: parts.knowledgeState ?? (() => started),
  });
  const access = parts.access ?? OPEN_TO_ANYBODY;
  const app = new Hono();
  app.use(...giveRequestId);
  for (const watch of parts.watches ?? []) app.use(watchRequests(watch));
  app.use(guardHeaders(access.publicOrigin));
  app.use(compressPages);
  app.use(readerLanguage);
  app.use(keepPrivate);
  // Before anything that may wait for the journal.
  app.route(
    '/',
    operatingRoutes({
      knowledgeVersion: knowledge.version,
      readiness: watchReadiness({
        journal,
        knowledgeState: site.knowledgeState,
        engine: parts.engineLoad,
        stopping: parts.stopping ?? (() => false),
      }),
      metrics: parts.metrics,
      metricsToken: parts.metricsToken,
    }),
  );
  const guard = guardAccess(site, access);
  app.use(`${API_BASE}/*`, guard);
  app.route(API_BASE, apiApp(site));
  app.use(
    methodNotAllowed({
      app,
      onMethodNotAllowed: (c, methods) => withAllow(errorPage(c, site, 405), methods),
    }),
  );
  // Bounds first: whoever is not signed in may send as little as anybody else.
  app.use(...guardForms(access.publicOrigin));
  app.use(guard);
  app.use(async (c, next) => {
    if (!c.req.path.startsWith('/assets/')) await inLanguage(SOURCE_LANGUAGE, () => frames.refresh());
    const zone = frames.zone();
    await (zone === undefined ? next() : withMillZone(zone, next));
  });
  app.route('/', assets.routes);
  for (const pages of [
    homePages,
    benchPages,
    causePages,
    setupPages,
    knowledgePages,
    sensitivityPages,
    planningPages,
    convertPages,
    countsPages,
    countsQuestionPages,
    caseFilePages,
    allJournalPages,
    trainingPages,
    languagePages,
  ])
    app.route('/', pages(site));
  app.route('/', accessPages(site, access));
  app.notFound((c) => errorPage(c, site, 404));
  app.onError((error, c) => answerFault(c, site, error));
  return app;
}

function withAllow(response: Response, methods: readonly string[]): Response {
  response.headers.set('Allow', methods.join(', '));
  return response;
}

import type { Server } from 'node:http';
import { createAdaptorServer } from '@hono/node-server';
import {
  hasAdministrator,
  type Journal,
  JournalError,
  makeFirstLink,
  openJournal,
} from '../journal/index.js';
import { createDiagnostician } from '../rules/diagnosis/diagnose.js';
import { defaultKnowledgeFolder } from '../rules/knowledge/load-knowledge.js';
import type { ProviderSettings } from './access/provider.js';
import { type AccessSettings, isLoopback, SESSION_TIMES } from './access/settings.js';
import { createApp } from './app.js';
import {
  CONNECTION_LIMITS,
  type ConnectionLimits,
  limitConnections,
  serverOptions,
} from './connection-limits.js';
import { canPool, type EnginePool, startEnginePool } from './engine-pool.js';
import { fillDemo } from './journal/fill-demo.js';
import { type JournalKeeper, type JournalPlace, keepJournal, noJournal } from './journal/keeper.js';
import { type KnowledgeGate, keepGate } from './journal/knowledge-gate.js';
import { keepLearning, type Learning } from './journal/learning.js';
import type { KnowledgeState } from './knowledge-state.js';
import { type Edition, type LiveApp, startLiveApp } from './live-app.js';
import type { LoadedBase } from './loaded-base.js';
import { logRequests } from './operating/log-requests.js';
import { createLogger, type Logger } from './operating/logger.js';
import { type Metrics, startMetrics } from './operating/metrics.js';
import type { RequestWatch } from './operating/request-watch.js';
import { type Closing, prepareClosing, within } from './operating/stop.js';
import { warmUpCases } from './warm-up-cases.js';
import { openWorkshop } from './workshop.js';

export const DEFAULT_HOST = '127.0.0.1';
export const DEFAULT_PORT = 4680;

export interface ServeOptions {
  readonly host?: string;
  readonly port?: number;
  /** Address under which browsers see the server, when a proxy stands before it. */
  readonly publicOrigin?: string;
  /** Addresses or networks of proxies whose word on the client's address is taken. */
  readonly proxies?: readonly string[];
  /** An outside provider of sign-ins. */
  readonly provider?: ProviderSettings | undefined;
  readonly knowledgeRoot?: string;
  /** Threads for rankings and answers; the processors less one unless said otherwise. One more does long work. */
  readonly workers?: number;
  /** Where the journal lies, and whether an empty one is filled with the demonstration mill; left out: no journal. */
  readonly journal?: JournalPlace & { readonly demo: boolean; readonly timeZone?: string };
  /** What connections may take, where it is not the usual. */
  readonly connections?: Partial<ConnectionLimits>;
  readonly print?: (line: string) => void;
  /** Where what happens is written, as JSON lines on standard error, from warnings on, unless said otherwise. */
  readonly logger?: Logger;
  /** Whether requests are logged with the address they come from. */
  readonly logAddresses?: boolean;
  /** Secret for reading the measures from another machine. */
  readonly metricsToken?: string;
  /** Seconds between saying that it is not ready any more and taking no more requests; 0 unless said otherwise. */
  readonly drainSeconds?: number;
  /** Most seconds that requests under way get at the stop; 30 unless said otherwise. */
  readonly stopSeconds?: number;
  /** Lines in place of the logger's, for tests. */
  readonly log?: (line: string) => void;
}

export interface RunningServer {
  /** `http://127.0.0.1:4680`. */
  readonly address: string;
  /** Stops taking requests, finishes those under way, ends the threads. */
  stop(): Promise<void>;
  /** Resolves once the server has stopped: whether everything closed in time. */
  readonly stopped: Promise<boolean>;
}

/** The server cannot listen where it was told to. */
export class ListenError extends Error {
  constructor(message: string, options?: ErrorOptions) {
    super(message, options);
    this.name = 'ListenError';
  }
}

/** The server can be reached by others, and there is nobody to say who may use it. */
export class NoAdministratorError extends Error {
  constructor(message: string) {
    super(message);
    this.name = 'NoAdministratorError';
  }
}

/** Requests under way at the stop get this long; a counts table of millions of rows takes some of it. */
export const DEFAULT_STOP_SECONDS = 30;
/** Threads and the journal get this long to close behind the last request. */
const CLOSE_SECONDS = 10;
/** The first requests wait this long at most for the journal to say which knowledge was in use. */
const SETTLE_MS = 3000;
/** Those that ask whether the server lives wait for nothing. */
const PROBES = ['/healthz', '/readyz', '/metrics'];

/** What the editions of the app share. */
interface Shared {
  readonly access: AccessSettings;
  readonly keeper: JournalKeeper;
  readonly metrics: Metrics;
  readonly watches: readonly RequestWatch[];
  readonly stopping: () => boolean;
  readonly fault: (line: string) => void;
}

/** The app on one version of the knowledge, with threads that reason from that version. */
function openEdition(
  base: LoadedBase,
  state: () => KnowledgeState,
  options: ServeOptions & { readonly knowledgeRoot: string },
  shared: Shared,
  learning: Learning,
  gate: KnowledgeGate,
): Edition {
  const { knowledge, books, mill, vignettes } = base;
  const { knowledgeRoot } = options;
  const inline = createDiagnostician(knowledge);
  const example = [...mill.values()].find((frame) => frame.example !== undefined)?.example;
  const pool: EnginePool | undefined = canPool()
    ? startEnginePool({
        diagnostician: inline,
        knowledgeRoot,
        example,
        warmUpCases: warmUpCases(base),
        books,
        watch: shared.metrics.engine,
        ...(options.workers === undefined ? {} : { workers: options.workers }),
      })
    : undefined;
  const dropPool = pool === undefined ? undefined : shared.metrics.addPool(() => pool.load());
  const app = createApp({
    diagnostician: pool ?? inline,
    ...(pool === undefined ? {} : { bench: pool.bench }),
    mill,
    books,
    journal: shared.keeper,
    learning,
    gate,
    vignettes,
    workshop: pool ?? openWorkshop(knowledge, knowledgeRoot, books.plans),
    ...(pool === undefined ? {} : { training: pool.training }),
    knowledgeState: () => ({ ...state(), gate: gate.state() }),
    access: shared.access,
    watches: shared.watches,
    engineLoad: pool === undefined ? undefined : () => pool.load(),
    stopping: shared.stopping,
    metrics: shared.metrics,
    metricsToken: options.metricsToken,
    log: shared.fault,
  });
  const warm = pool?.ready() ?? Promise.resolve();
  warm.catch(() => {});
  return {
    app,
    version: knowledge.version,
    warm: () => warm,
    close: async () => {
      dropPool?.();
      await pool?.close();
    },
  };
}

/**
 * Starts the web app and says where it is. The knowledge base is watched, and exchanged when it changes. Stops on SIGTERM and SIGINT.
 * @throws ListenError when the port is taken or may not be used
 * @throws NoAdministratorError when others could reach it and nobody looks after its accounts
 * @throws KnowledgeError when the knowledge base has problems
 */
export async function serve(options: ServeOptions = {}): Promise<RunningServer> {
  const host = options.host ?? DEFAULT_HOST;
  const port = options.port ?? DEFAULT_PORT;
  const print = options.print ?? console.log;
  const knowledgeRoot = options.knowledgeRoot ?? defaultKnowledgeFolder();
  const { journal: place } = options;
  const access = accessFor(host, options);
  await requireAdministrator(access, place, host);
  const limits = { ...CONNECTION_LIMITS, ...options.connections };
  const logger = options.logger ?? createLogger('warn');
  const log = options.log ?? ((line: string) => logger.warn(line));
  let address = '';
  const tellFirstLink = async (journal: Journal): Promise<void> => {
    const link = await makeFirstLink(journal);
    if (link === undefined) return;
    print(
      'Nobody has to sign in on this computer. To give people accounts, make the first administrator with',
    );
    print(`  ${address}/set-password?link=${link.secret}`);
    print('which works once and for an hour.');
  };
  const kept =
    place === undefined
      ? undefined
      : keepJournal(
          { folder: place.folder, url: place.url },
          {
            log,
            ...(place.demo ? { fill: fillDemo(knowledgeRoot) } : {}),
            ...(access.openTo === 'loopback' ? { opened: tellFirstLink } : {}),
            ...(place.timeZone === undefined ? {} : { timeZone: place.timeZone }),
          },
        );
  const keeper: JournalKeeper = kept ?? noJournal;
  let stopping: Promise<void> | undefined;
  let closing: Closing | undefined;
  const metrics = startMetrics({
    journal: () => keeper.peek(),
    knowledge: () => live.state(),
    underWay: () => closing?.underWay() ?? 0,
  });
  const shared: Shared = {
    access,
    keeper,
    metrics,
    watches: [
      metrics.request,
      ...(options.log === undefined
        ? [logRequests(logger, { addresses: options.logAddresses === true })]
        : []),
    ],
    stopping: () => stopping !== undefined,
    fault: options.log ?? ((line) => logger.error(line)),
  };
  const learning = keepLearning(keeper, place, () => live.renew(), log);
  const gate = keepGate(keeper, place, () => live, log);
  const live: LiveApp = startLiveApp({
    knowledgeRoot,
    admit: gate.admit,
    inUse: gate.inUse,
    open: (base, state) => {
      const edition = learning.edition(base.knowledge);
      return openEdition(
        { ...base, knowledge: edition.knowledge },
        state,
        { ...options, knowledgeRoot },
        shared,
        edition.learning,
        gate,
      );
    },
    log,
  });
  // Until it is known which version was in use before, the first requests wait a moment, so that none is answered from
  // one that has not been tried.
  let settle = () => {};
  const settled = new Promise<void>((resolve) => {
    settle = resolve;
  });
  const server = createAdaptorServer({
    fetch: async (request, env) => {
      if (!PROBES.includes(new URL(request.url).pathname)) await settled;
      return live.fetch(request, env);
    },
    serverOptions: serverOptions(limits),
  }) as Server;
  limitConnections(server, limits, access.proxies.length > 0 || access.publicOrigin !== undefined);
  closing = prepareClosing(server);
  try {
    await listen(server, host, port);
  } catch (error) {
    await gate.close();
    await live.close();
    await learning.close();
    await keeper.close();
    throw explain(error, host, port);
  }
  const at = server.address();
  const actualPort = typeof at === 'object' && at !== null ? at.port : port;
  address = `http://${host.includes(':') ? `[${host}]` : host}:${actualPort}`;
  print(`Peelpoint is at ${address} (stop with Ctrl+C)`);
  // Only now: a second server that finds its port taken must not touch the journal.
  kept?.start();
  learning.begin();
  const patience = setTimeout(settle, SETTLE_MS);
  void gate
    .begin()
    .catch((error: unknown) => log(`knowledge: ${error instanceof Error ? error.message : String(error)}`))
    .finally(() => {
      clearTimeout(patience);
      settle();
    });

  let tellStopped = (_: boolean) => {};
  const stopped = new Promise<boolean>((resolve) => {
    tellStopped = resolve;
  });
  const stop = (): Promise<void> => {
    stopping ??= (async () => {
      process.off('SIGTERM', onSignal);
      process.off('SIGINT', onSignal);
      const drain = options.drainSeconds ?? 0;
      if (drain > 0) await new Promise((done) => setTimeout(done, drain * 1000));
      const cut = (await closing?.close(options.stopSeconds ?? DEFAULT_STOP_SECONDS)) ?? 0;
      if (cut > 0) log(`stopped with ${cut} request${cut === 1 ? '' : 's'} unfinished`);
      const closed = await within(
        CLOSE_SECONDS,
        (async () => {
          await gate.close();
          await live.close();
          await learning.close();
          await keeper.close();
        })(),
      );
      if (!closed) log(`the threads or the journal did not close within ${CLOSE_SECONDS} s`);
      tellStopped(closed);
    })();
    return stopping;
  };
  const onSignal = () => {
    print('Stopping.');
    void stop();
  };
  process.on('SIGTERM', onSignal);
  process.on('SIGINT', onSignal);
  return { address, stop, stopped };
}

/** Whom the server lets in: without accounts only this computer, and only where no proxy brings others. */
function accessFor(host: string, options: ServeOptions): AccessSettings {
  const { publicOrigin, proxies = [] } = options;
  return {
    openTo: isLoopback(host) && publicOrigin === undefined && proxies.length === 0 ? 'loopback' : 'nobody',
    publicOrigin,
    proxies,
    times: SESSION_TIMES,
    provider: options.provider,
  };
}

/** A journal that cannot be opened now is no hindrance: until it can, nobody is let in anyway. */
async function requireAdministrator(
  access: AccessSettings,
  place: JournalPlace | undefined,
  host: string,
): Promise<void> {
  if (access.openTo !== 'nobody') return;
  const reached = `Others can reach this server ${access.publicOrigin === undefined ? `on ${host}` : `at ${access.publicOrigin}`}`;
  if (place === undefined)
    throw new NoAdministratorError(
      `${reached}, so people must sign in, and without a journal there are no accounts. Start it with a data folder.`,
    );
  let journal: Journal;
  try {
    journal = await openJournal({ folder: place.folder, url: place.url });
  } catch (error) {
    if (error instanceof JournalError) return;
    throw error;
  }
  try {
    if (await hasAdministrator(journal)) return;
  } finally {
    await journal.close();
  }
  throw new NoAdministratorError(
    `${reached}, but there is no administrator who says who may use it. Make one first, on this computer: peelpoint account add NAME --roles administrator${place.folder === undefined ? '' : ` --data ${place.folder}`}. It prints a link to set the password with, which works as soon as the server runs.`,
  );
}

function listen(server: Server, host: string, port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, host, () => {
      server.off('error', reject);
      resolve();
    });
  });
}

function explain(error: unknown, host: string, port: number): unknown {
  const code = error instanceof Error && 'code' in error ? error.code : undefined;
  const cause = { cause: error };
  if (code === 'EADDRINUSE')
    return new ListenError(
      `Port ${port} on ${host} is taken by another program. Choose another one with --port, for example --port ${port < 65_535 ? port + 1 : 4680}.`,
      cause,
    );
  if (code === 'EACCES')
    return new ListenError(
      `Port ${port} may not be used by this account. Choose one above 1023 with --port.`,
      cause,
    );
  if (code === 'EADDRNOTAVAIL' || code === 'ENOTFOUND')
    return new ListenError(
      `${host} is not an address of this machine. Choose another one with --host.`,
      cause,
    );
  return error;
}

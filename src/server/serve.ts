import type { Server } from 'node:http';
import { createAdaptorServer } from '@hono/node-server';
import { createDiagnostician } from '../rules/diagnosis/diagnose.js';
import { defaultKnowledgeFolder } from '../rules/knowledge/load-knowledge.js';
import { createApp } from './app.js';
import { canPool, type EnginePool, startEnginePool } from './engine-pool.js';
import { fillDemo } from './journal/fill-demo.js';
import { type JournalKeeper, type JournalPlace, keepJournal, noJournal } from './journal/keeper.js';
import { keepLearning, type Learning } from './journal/learning.js';
import type { KnowledgeState } from './knowledge-state.js';
import { type Edition, type LiveApp, startLiveApp } from './live-app.js';
import type { LoadedBase } from './loaded-base.js';
import { openWorkshop } from './workshop.js';

export const DEFAULT_HOST = '127.0.0.1';
export const DEFAULT_PORT = 4680;

export interface ServeOptions {
  readonly host?: string;
  readonly port?: number;
  /** Address under which browsers see the server, when a proxy stands before it. */
  readonly publicOrigin?: string;
  readonly knowledgeRoot?: string;
  /** Threads that reason; 1 unless said otherwise. */
  readonly workers?: number;
  /** Where the journal lies, and whether an empty one is filled with the demonstration mill; left out: no journal. */
  readonly journal?: JournalPlace & { readonly demo: boolean; readonly timeZone?: string };
  readonly print?: (line: string) => void;
  readonly log?: (line: string) => void;
}

export interface RunningServer {
  /** `http://127.0.0.1:4680`. */
  readonly address: string;
  /** Stops taking requests, finishes those under way, ends the threads. */
  stop(): Promise<void>;
  /** Resolves once the server has stopped. */
  readonly stopped: Promise<void>;
}

/** The server cannot listen where it was told to. */
export class ListenError extends Error {
  constructor(message: string, options?: ErrorOptions) {
    super(message, options);
    this.name = 'ListenError';
  }
}

/** Addresses carry the whole case, and the referrer and htmx repeat them. */
const MOST_HEADER_BYTES = 64 * 1024;
/** Requests under way at the stop get this long. */
const STOP_SECONDS = 5;

/** The app on one version of the knowledge, with threads that reason from that version. */
function openEdition(
  base: LoadedBase,
  state: () => KnowledgeState,
  options: ServeOptions & { readonly knowledgeRoot: string },
  journal: JournalKeeper,
  learning: Learning,
): Edition {
  const { knowledge, books, mill, vignettes } = base;
  const { knowledgeRoot } = options;
  const inline = createDiagnostician(knowledge);
  const pool: EnginePool | undefined = canPool()
    ? startEnginePool({
        diagnostician: inline,
        knowledgeRoot,
        books,
        ...(options.workers === undefined ? {} : { workers: options.workers }),
      })
    : undefined;
  const app = createApp({
    diagnostician: pool ?? inline,
    mill,
    books,
    journal,
    learning,
    vignettes,
    workshop: pool ?? openWorkshop(knowledge, knowledgeRoot, books.plans),
    ...(pool === undefined ? {} : { training: pool.training }),
    knowledgeState: state,
    ...(options.publicOrigin === undefined ? {} : { publicOrigin: options.publicOrigin }),
    ...(options.log === undefined ? {} : { log: options.log }),
  });
  // The first answer of a fresh thread is slow; let it be nobody's.
  const example = [...mill.values()].find((frame) => frame.example !== undefined)?.example;
  const warm = (async () => {
    if (example !== undefined) await pool?.diagnose(example);
  })();
  warm.catch(() => {});
  return { app, version: knowledge.version, warm: () => warm, close: async () => pool?.close() };
}

/**
 * Starts the web app and says where it is. The knowledge base is watched, and exchanged when it changes. Stops on SIGTERM and SIGINT.
 * @throws ListenError when the port is taken or may not be used
 * @throws KnowledgeError when the knowledge base has problems
 */
export async function serve(options: ServeOptions = {}): Promise<RunningServer> {
  const host = options.host ?? DEFAULT_HOST;
  const port = options.port ?? DEFAULT_PORT;
  const print = options.print ?? console.log;
  const knowledgeRoot = options.knowledgeRoot ?? defaultKnowledgeFolder();
  const { journal: place } = options;
  const log = options.log ?? console.error;
  const kept =
    place === undefined
      ? undefined
      : keepJournal(
          { folder: place.folder, url: place.url },
          {
            log,
            ...(place.demo ? { fill: fillDemo(knowledgeRoot) } : {}),
            ...(place.timeZone === undefined ? {} : { timeZone: place.timeZone }),
          },
        );
  const keeper: JournalKeeper = kept ?? noJournal;
  const learning = keepLearning(keeper, place, () => live.renew(), log);
  const live: LiveApp = startLiveApp({
    knowledgeRoot,
    open: (base, state) => {
      const edition = learning.edition(base.knowledge);
      return openEdition(
        { ...base, knowledge: edition.knowledge },
        state,
        { ...options, knowledgeRoot },
        keeper,
        edition.learning,
      );
    },
    log,
  });
  const server = createAdaptorServer({
    fetch: live.fetch,
    serverOptions: { maxHeaderSize: MOST_HEADER_BYTES },
  }) as Server;
  try {
    await listen(server, host, port);
  } catch (error) {
    await live.close();
    await learning.close();
    await keeper.close();
    throw explain(error, host, port);
  }
  const at = server.address();
  const actualPort = typeof at === 'object' && at !== null ? at.port : port;
  const address = `http://${host.includes(':') ? `[${host}]` : host}:${actualPort}`;
  // Only now: a second server that finds its port taken must not touch the journal.
  kept?.start();
  print(`Peelpoint is at ${address} (stop with Ctrl+C)`);

  let stopping: Promise<void> | undefined;
  let tellStopped = () => {};
  const stopped = new Promise<void>((resolve) => {
    tellStopped = resolve;
  });
  const stop = (): Promise<void> => {
    stopping ??= (async () => {
      process.off('SIGTERM', onSignal);
      process.off('SIGINT', onSignal);
      await close(server);
      await live.close();
      await learning.close();
      await keeper.close();
      tellStopped();
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

function listen(server: Server, host: string, port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, host, () => {
      server.off('error', reject);
      resolve();
    });
  });
}

function close(server: Server): Promise<void> {
  return new Promise((resolve) => {
    const cut = setTimeout(() => server.closeAllConnections(), STOP_SECONDS * 1000);
    server.close(() => {
      clearTimeout(cut);
      resolve();
    });
    server.closeIdleConnections();
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

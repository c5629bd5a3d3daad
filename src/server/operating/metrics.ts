import { collectDefaultMetrics, Gauge, Histogram, Registry } from 'prom-client';
import { type Journal, journalConnections } from '../../journal/index.js';
import type { PoolLoad, PoolWatch } from '../engine-pool.js';
import type { JournalState } from '../journal/keeper.js';
import type { KnowledgeState } from '../knowledge-state.js';
import type { RequestWatch } from './request-watch.js';

/** What the measures are read from when somebody asks for them. */
export interface MetricsParts {
  readonly journal: () => JournalState;
  readonly knowledge: () => KnowledgeState;
  /** Requests being answered. */
  readonly underWay: () => number;
}

/** Measures of a running server in the text format of Prometheus. */
export interface Metrics {
  readonly request: RequestWatch;
  readonly engine: PoolWatch;
  /** Adds the threads of an edition of the app; the function takes them away again. */
  addPool(load: () => PoolLoad): () => void;
  readonly contentType: string;
  text(): Promise<string>;
}

const SECONDS = [0.005, 0.01, 0.025, 0.05, 0.1, 0.2, 0.3, 0.5, 1, 2, 5, 10];
const JOURNAL_STATES = ['open', 'filling', 'closed', 'none'] as const;

/** Starts measuring; everything is in a register of its own, so that a process may hold several servers. */
export function startMetrics(parts: MetricsParts): Metrics {
  const register = new Registry();
  const registers = [register];
  collectDefaultMetrics({ register });
  const requests = new Histogram({
    name: 'http_request_duration_seconds',
    help: 'Time from a request to its answer, by the pattern of the route',
    labelNames: ['method', 'route', 'status'],
    buckets: SECONDS,
    registers,
  });
  const waits = new Histogram({
    name: 'peelpoint_engine_wait_seconds',
    help: 'Time a question waited for a thread',
    labelNames: ['ask'],
    buckets: SECONDS,
    registers,
  });
  const answers = new Histogram({
    name: 'peelpoint_engine_answer_seconds',
    help: 'Time from a question to its answer, fault or time-out',
    labelNames: ['ask', 'outcome'],
    buckets: SECONDS,
    registers,
  });
  const pools = new Set<() => PoolLoad>();
  const gauge = (name: string, help: string, read: () => number | undefined): void => {
    new Gauge({
      name,
      help,
      registers,
      collect() {
        const value = read();
        if (value === undefined) this.reset();
        else this.set(value);
      },
    });
  };
  const ofPools = (which: keyof PoolLoad) => () => [...pools].reduce((sum, load) => sum + load()[which], 0);
  gauge('http_requests_in_progress', 'Requests being answered', parts.underWay);
  gauge('peelpoint_engine_waiting', 'Questions waiting for a thread', ofPools('waiting'));
  gauge('peelpoint_engine_busy', 'Threads at work on a question', ofPools('busy'));
  gauge('peelpoint_engine_threads', 'Threads that reason', ofPools('threads'));
  gauge(
    'peelpoint_knowledge_problems',
    'Problems of the knowledge base’s files; above 0 an older version is in use',
    () => parts.knowledge().problems.length,
  );
  new Gauge({
    name: 'peelpoint_journal_state',
    help: 'How the journal stands: 1 for the state it is in',
    labelNames: ['state'],
    registers,
    collect() {
      const { kind } = parts.journal();
      for (const state of JOURNAL_STATES) this.set({ state }, state === kind ? 1 : 0);
    },
  });
  const connections = (which: 'open' | 'idle' | 'waiting') => () => {
    const journal = openJournalOf(parts.journal());
    return journal === undefined ? undefined : journalConnections(journal)?.[which];
  };
  gauge('peelpoint_database_connections', 'Connections to the database server', connections('open'));
  gauge('peelpoint_database_idle', 'Connections to the database server at rest', connections('idle'));
  gauge('peelpoint_database_waiting', 'Questions waiting for a connection', connections('waiting'));

  return {
    request: ({ method, route, status, seconds }) =>
      requests.observe({ method, route, status: String(status) }, seconds),
    engine: {
      begun: (ask, waited) => waits.observe({ ask }, waited),
      ended: (ask, seconds, outcome) => answers.observe({ ask, outcome }, seconds),
    },
    addPool(load) {
      pools.add(load);
      return () => pools.delete(load);
    },
    contentType: register.contentType,
    text: () => register.metrics(),
  };
}

const openJournalOf = (state: JournalState): Journal | undefined =>
  state.kind === 'open' ? state.journal : undefined;

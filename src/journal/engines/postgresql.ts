import { type Dialect, PostgresDialect } from 'kysely';
import pg from 'pg';

/** Whole numbers of 8 bytes and decimal numbers, which the driver would hand over as text. */
const NUMBERS_AS_TEXT = [20, 1700];

/** Connections of a pool: all, those at rest, and questions that wait for one. */
export interface Connections {
  readonly open: number;
  readonly idle: number;
  readonly waiting: number;
}

/** PostgreSQL by URL through a pool; a lost connection is replaced by the next question. */
export function openPool(url: string): {
  readonly dialect: Dialect;
  readonly connections: () => Connections;
} {
  const pool = new pg.Pool({
    connectionString: url,
    max: 10,
    connectionTimeoutMillis: 10_000,
    idleTimeoutMillis: 30_000,
    statement_timeout: 60_000,
    idle_in_transaction_session_timeout: 60_000,
    keepAlive: true,
    application_name: 'peelpoint',
    // Reading here and there costs little more than reading on: journals lie on solid-state disks, or in memory. Said by
    // the pool itself, which gives a place back when the connection dies meanwhile; the query builder's own way keeps it,
    // and after ten such deaths nobody would get through any more.
    onConnect: async (client) => {
      await client.query('set random_page_cost = 1.1');
    },
    types: {
      getTypeParser: ((oid: number, format?: 'text' | 'binary') =>
        NUMBERS_AS_TEXT.includes(oid) && format !== 'binary'
          ? Number
          : pg.types.getTypeParser(oid, format as 'text')) as typeof pg.types.getTypeParser,
    },
  });
  // A connection that dies is dropped by the pool; without listeners the process would end. The pool itself listens only
  // to those at rest, so one that dies inside a transaction, between two statements, needs its own.
  pool.on('error', () => undefined);
  pool.on('connect', (client) => client.on('error', () => undefined));
  return {
    dialect: new PostgresDialect({ pool }),
    connections: () => ({ open: pool.totalCount, idle: pool.idleCount, waiting: pool.waitingCount }),
  };
}

/** A database address without its password, for messages. */
export function showUrl(url: string): string {
  try {
    const parsed = new URL(url);
    if (parsed.password !== '') parsed.password = '…';
    parsed.search = '';
    return decodeURIComponent(parsed.toString());
  } catch {
    return '(an address that cannot be read)';
  }
}

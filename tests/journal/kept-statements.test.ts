import Database from 'better-sqlite3';
import { afterEach, describe, expect, it } from 'vitest';
import { keepStatements } from '../../src/journal/engines/kept-statements.js';

const open: Database.Database[] = [];
afterEach(() => {
  for (const database of open.splice(0)) database.close();
});

/** A database with a table, and how often a statement was read. */
function start(most?: number) {
  const database = new Database(':memory:');
  open.push(database);
  database.exec(
    `create table frames (id integer, name text); insert into frames values (1, 'one'), (2, 'two')`,
  );
  let read = 0;
  const counted = new Proxy(database, {
    get: (target, key) => {
      if (key === 'prepare') read++;
      const value: unknown = Reflect.get(target, key);
      return typeof value === 'function' ? value.bind(target) : value;
    },
  });
  return { kept: keepStatements(counted, most), database, readSoFar: () => read };
}

const ALL = 'select * from frames where id >= ? order by id';

describe('statements kept ready', () => {
  it('are read once and answer by what they are given', () => {
    const { kept, readSoFar } = start();
    expect(kept.prepare(ALL).all([1])).toHaveLength(2);
    expect(kept.prepare(ALL).all([2])).toEqual([{ id: 2, name: 'two' }]);
    expect(kept.prepare('insert into frames values (?, ?)').run([3, 'three']).changes).toBe(1);
    expect(kept.prepare('insert into frames values (?, ?)').run([4, 'four']).changes).toBe(1);
    expect(kept.prepare(ALL).all([3])).toHaveLength(2);
    expect(readSoFar()).toBe(2);
  });

  it('know a column that came since, and say when their table is gone', () => {
    const { kept } = start();
    kept.prepare(ALL).all([1]);
    kept.prepare('alter table frames add column place text').run([]);
    expect(kept.prepare(ALL).all([2])).toEqual([{ id: 2, name: 'two', place: null }]);
    kept.prepare('alter table frames drop column name').run([]);
    expect(kept.prepare(ALL).all([2])).toEqual([{ id: 2, place: null }]);
    kept.prepare('drop table frames').run([]);
    expect(() => kept.prepare(ALL).all([2])).toThrow('no such table');
  });

  it('work again after one of them failed', () => {
    const { kept, database } = start();
    database.exec('create unique index once on frames (id)');
    const insert = 'insert into frames values (?, ?)';
    expect(() => kept.prepare(insert).run([1, 'again'])).toThrow('UNIQUE');
    expect(kept.prepare(insert).run([5, 'five']).changes).toBe(1);
  });

  it('can be read row by row twice at a time', () => {
    const { kept } = start();
    const rows = kept.prepare(ALL).iterate([1]);
    rows.next();
    expect([...kept.prepare(ALL).iterate([2])]).toHaveLength(1);
    expect(kept.prepare(ALL).all([1])).toHaveLength(2);
    expect([...rows]).toHaveLength(1);
  });

  it('are no more than there is room for: the one not asked for longest goes', () => {
    const { kept, readSoFar } = start(2);
    for (const sql of ['select 1', 'select 2', 'select 1', 'select 3', 'select 1']) kept.prepare(sql).all([]);
    expect(readSoFar()).toBe(3);
    kept.prepare('select 2').all([]);
    expect(readSoFar()).toBe(4);
  });

  it('are none that set up the connection, or that are long lists', () => {
    const { kept, readSoFar } = start();
    for (let n = 0; n < 2; n++) {
      kept.prepare('pragma user_version').all([]);
      kept.prepare(`select 1 in (${Array.from({ length: 3000 }, (_, i) => i).join(', ')})`).all([]);
    }
    expect(readSoFar()).toBe(4);
  });
});

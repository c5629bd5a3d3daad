import { expect, it } from 'vitest';
import { addLot, addYarn, listLots, listYarns } from '../../src/journal/index.js';
import { keepQuery } from '../../src/journal/kept-query.js';
import { inOneTransaction, read } from '../../src/journal/store.js';
import { by, describeOnBothEngines } from './engines.js';

describeOnBothEngines('a question put into words once', (on) => {
  it('is asked anew of every journal, and inside a transaction of that', async () => {
    let built = 0;
    const names = keepQuery((db) => {
      built++;
      return db.selectFrom('yarns').select('name').where('name', '!=', 'other').orderBy('name');
    });
    const one = await on.newJournal();
    const other = await on.newJournal();
    await addYarn(one, { id: 'a', name: 'A' }, by());
    expect(await read(one, names)).toEqual([{ name: 'A' }]);
    await addYarn(one, { id: 'b', name: 'B' }, by());
    expect(await read(one, names)).toEqual([{ name: 'A' }, { name: 'B' }]);
    expect(built).toBe(1);
    expect(await read(other, names)).toEqual([]);
    expect(built).toBe(2);
    const undone = inOneTransaction(one, async (inner) => {
      await addYarn(inner, { id: 'c', name: 'C' }, by());
      expect((await read(inner, names)).length).toBe(3);
      expect((await listYarns(inner)).length).toBe(3);
      throw new Error('taken back');
    });
    await expect(undone).rejects.toThrow('taken back');
    expect((await read(one, names)).length).toBe(2);
    expect((await listYarns(one)).map((yarn) => yarn.name)).toEqual(['A', 'B']);
    await addLot(one, { id: 'l', name: 'L', yarn: 'a' }, by());
    expect([(await listLots(one)).length, (await listLots(other)).length]).toEqual([1, 0]);
  });
});

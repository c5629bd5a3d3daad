import { beforeAll, expect, it } from 'vitest';
import { readSetting, writeSetting } from '../../src/journal/clients/settings.js';
import { addToken, findClient, listTokens, revokeToken } from '../../src/journal/clients/tokens.js';
import {
  type Journal,
  logComplaint,
  openJournal,
  recordComplaintStep,
  searchCases,
} from '../../src/journal/index.js';
import { by, describeOnBothEngines } from './engines.js';
import { addSmallMill, caseThrough, closedBy, LOOKED } from './fixtures.js';

describeOnBothEngines('clients and settings', (on) => {
  let journal: Journal;
  beforeAll(async () => {
    journal = await on.newJournal();
  });

  it('know a token by its secret alone, which is kept nowhere', async () => {
    const { token, secret } = await addToken(journal, 'frame panel 3');
    expect(await findClient(journal, secret)).toMatchObject({ id: token.id, name: 'frame panel 3' });
    expect((await listTokens(journal))[0]?.usedAt).not.toBeNull();
    expect(JSON.stringify(await listTokens(journal))).not.toContain(secret);
    for (const wrong of ['', secret.slice(1), `${secret} `, secret.toLowerCase(), 'peelpoint_'])
      expect(await findClient(journal, wrong), wrong).toBeUndefined();
    await expect(addToken(journal, 'frame panel 3')).rejects.toThrow(
      'There is a token "frame panel 3" already',
    );
    await expect(addToken(journal, ' ')).rejects.toMatchObject({ fault: 'input' });
  });

  it('end a token for good; its name may be used again', async () => {
    const { secret } = await addToken(journal, 'laboratory');
    await revokeToken(journal, 'laboratory');
    expect(await findClient(journal, secret)).toBeUndefined();
    await expect(revokeToken(journal, 'laboratory')).rejects.toMatchObject({ fault: 'not-found' });
    const again = await addToken(journal, 'laboratory');
    expect(await findClient(journal, again.secret)).toBeDefined();
    expect((await listTokens(journal)).filter((one) => one.name === 'laboratory')).toHaveLength(2);
  });

  it('keep a setting with who set it', async () => {
    expect(await readSetting(journal, 'use-learned-rates')).toBeUndefined();
    await writeSetting(journal, 'use-learned-rates', true, by(undefined, 'Dalia'));
    await writeSetting(journal, 'use-learned-rates', false, by(undefined, 'Emil'));
    expect(await readSetting(journal, 'use-learned-rates')).toMatchObject({ value: false, who: 'Emil' });
    await expect(writeSetting(journal, 'use-learned-rates', 'yes' as never, by())).rejects.toMatchObject({
      fault: 'input',
    });
  });

  it('are there in a journal from before there were any', async () => {
    const place = await on.newPlace();
    const old = await openJournal({ ...place, schemaStep: '0004-machine-data' });
    await old.close();
    const now = await openJournal(place);
    expect(await listTokens(now)).toEqual([]);
    await now.close();
  });
});

describeOnBothEngines('cases by the customer of their complaints', (on) => {
  it('are those linked to one of them', async () => {
    const journal = await on.newJournal();
    await addSmallMill(journal);
    const closed = () =>
      caseThrough(journal, { title: 'Breaks' }, '2026-03-01T06:00:00Z', [
        LOOKED,
        closedBy('nozzle-worn', 'by-look'),
      ]);
    const first = await closed();
    await closed();
    const complaint = await logComplaint(journal, { customer: 'Moorgate', fabricFault: 'barré' }, by());
    await recordComplaintStep(
      journal,
      { id: complaint.id, seen: complaint.version },
      { step: 'linked', frames: [], cases: [first.id] },
      by(),
    );
    const found = await searchCases(journal, { customer: 'Moorgate' });
    expect(found.rows.map((one) => one.id)).toEqual([first.id]);
    expect((await searchCases(journal, { customer: 'Nobody' })).rows).toEqual([]);
  });
});

import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { withBaseRates } from '../../../src/rules/knowledge/base-rates.js';
import { expertCauses, learnRates } from '../../../src/server/journal/learning.js';
import { type RunningServer, serve } from '../../../src/server/serve.js';
import { type JournalSite, openJournalSite } from './journal-site.js';

let site: JournalSite;
let server: RunningServer;
beforeAll(async () => {
  site = await openJournalSite();
  server = await serve({
    port: 0,
    print: () => {},
    log: () => {},
    journal: { folder: site.folder, demo: false },
  });
});
afterAll(async () => {
  await server?.stop();
  await site?.close();
});

const FILE = { setup: { fibre: 'cotton', count: '20 Ne' }, observations: { 'end-breaks': 'marked' } };
const rank = async () => {
  const response = await fetch(`${server.address}/api/v1/rank`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify(FILE),
  });
  return (await response.json()) as { knowledgeVersion: string; causes: { id: string; base: number }[] };
};
const turn = (use: 'yes' | 'no') =>
  fetch(`${server.address}/learning`, {
    method: 'POST',
    redirect: 'manual',
    headers: { Origin: server.address, 'Content-Type': 'application/x-www-form-urlencoded' },
    body: new URLSearchParams({ use, who: 'Dalia' }),
  });

describe('the switch of the learned rates', () => {
  it('changes what answers start from, at once and both ways', async () => {
    const expert = await rank();
    expect(expert.knowledgeVersion).not.toContain('+mill-');
    expect((await turn('yes')).status).toBe(303);
    const learned = await rank();
    expect(learned.knowledgeVersion).toMatch(/\+mill-[0-9a-f]{8}$/);
    const rates = await learnRates(site.journal, site.diagnostician.knowledge);
    const moved = [...rates].sort(
      (a, b) => Math.abs(b.learned - b.expert) - Math.abs(a.learned - a.expert),
    )[0];
    const base = (answer: Awaited<ReturnType<typeof rank>>) =>
      answer.causes.find((cause) => cause.id === moved?.causeId)?.base ?? 0;
    expect(Math.sign(base(learned) - base(expert))).toBe(
      Math.sign((moved?.learned ?? 0) - (moved?.expert ?? 0)),
    );
    expect((await turn('no')).status).toBe(303);
    expect((await rank()).knowledgeVersion).toBe(expert.knowledgeVersion);
  });
});

describe('other base rates', () => {
  it('leave the knowledge as it was, and stay where evidence can move them', () => {
    const { knowledge } = site.diagnostician;
    const [first] = expertCauses(knowledge);
    const id = first?.id ?? '';
    const changed = withBaseRates(
      knowledge,
      new Map([
        [id, 0],
        ['no-such-cause', 0.5],
      ]),
    );
    expect(changed.book.causes.get(id)?.prior.base).toBeGreaterThan(0);
    expect(knowledge.book.causes.get(id)?.prior.base).toBe(first?.base);
    expect(changed.book.causes.size).toBe(knowledge.book.causes.size);
    expect(changed.version).not.toBe(knowledge.version);
    expect(withBaseRates(knowledge, new Map()).book.causes.get(id)?.prior.base).toBe(first?.base);
  });
});

import { describe, expect, it } from 'vitest';
import { createApp } from '../../src/server/app.js';
import { REQUEST_ID_HEADER } from '../../src/server/request-id.js';
import { testSite, textOf } from './site.js';

describe('the reference of a request', () => {
  it('is another one each time, also on refusals, and never the one the client sends', async () => {
    const { app } = testSite();
    const references = new Set<string>();
    for (const path of ['/', '/no-such-page', '/api/v1/no-such-thing', '/healthz', '/assets/none.js']) {
      const response = await app.request(path, { headers: { [REQUEST_ID_HEADER]: 'mine' } });
      const reference = response.headers.get(REQUEST_ID_HEADER) ?? '';
      expect(reference, path).toMatch(/^[0-9a-f]{10}$/);
      references.add(reference);
    }
    expect(references.size).toBe(5);
  });

  it('is on the page of a fault, in its header and in the log', async () => {
    const { diagnostician, mill } = testSite();
    const log: string[] = [];
    const app = createApp({
      diagnostician: { ...diagnostician, diagnose: () => Promise.reject(new Error('planted')) },
      mill,
      log: (line) => log.push(line),
    });
    const response = await app.request('/bench?frame=frame-3&observations.end-breaks=marked');
    expect(response.status).toBe(500);
    const reference = response.headers.get(REQUEST_ID_HEADER) ?? 'none';
    expect(textOf(await response.text())).toContain(`Reference: ${reference}`);
    expect(log.filter((line) => line.startsWith(`${reference} GET /bench: Error: planted`))).toHaveLength(1);
  });
});

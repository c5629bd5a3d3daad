/** The journeys of the journal's pages once more, the same file, on PostgreSQL. */
import { expect, it } from 'vitest';
import { enginesUsed, putJournalsOnPostgres } from './journal-site.js';

putJournalsOnPostgres();
await import('./pages.test.js');

it('lies in PostgreSQL', () => {
  expect([...enginesUsed]).toEqual(['postgresql']);
});

/** The journeys of the journal's pages once more, the same file, on PostgreSQL. */
import { expect, it } from 'vitest';
import { putJournalsOnPostgres } from './journal-site.js';

putJournalsOnPostgres();
const { journalOfPages } = await import('./pages.test.js');

it('lies in PostgreSQL', () => {
  expect(journalOfPages().engine).toBe('postgresql');
});

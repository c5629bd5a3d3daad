import { defineConfig } from 'vitest/config';
import LongFirst from './tests/shared/long-first.js';

/** These measure the memory that they use, so each has a process to itself. */
const ALONE = ['tests/fuzz/parsers.test.ts', 'tests/fuzz/routes.test.ts'];

export default defineConfig({
  test: {
    testTimeout: 30_000,
    hookTimeout: 60_000,
    pool: 'forks',
    maxWorkers: 2,
    sequence: { sequencer: LongFirst },
    globalSetup: ['tests/shared/global-setup.ts'],
    projects: [
      {
        extends: true,
        test: {
          name: 'together',
          include: ['tests/**/*.test.ts'],
          exclude: ALONE,
          // Files of a worker share what is loaded: the knowledge base, a browser, a PostgreSQL. None may leave a changed world.
          isolate: false,
        },
      },
      { extends: true, test: { name: 'alone', include: ALONE } },
    ],
  },
});

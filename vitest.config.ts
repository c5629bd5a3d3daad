import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 30_000,
    hookTimeout: 60_000,
    pool: 'forks',
    // Files of a worker share what is loaded: the knowledge base, a browser, a PostgreSQL. None may leave a changed world.
    isolate: false,
    globalSetup: ['tests/shared/global-setup.ts'],
    maxWorkers: 2,
  },
});

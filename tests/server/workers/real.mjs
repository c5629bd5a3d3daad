// The product's own worker, from its TypeScript source.
import { register } from 'tsx/esm/api';

register();
await import('../../../src/server/engine-worker.ts');

/**
 * Writes until it is killed and says on standard output what has been acknowledged, a line each: bundled into one file
 * (`bundleWriter`) and started as `node writer.mjs KIND ROUND PLACE`, the place as JSON.
 */
import { writeSync } from 'node:fs';
import type { KillPlace } from './kind.js';
import { KINDS } from './kinds.js';

const [kind = '', round = '0', place = '{}'] = process.argv.slice(2);
// Straight to the pipe: what is written here was acknowledged before.
await KINDS[kind]?.write(JSON.parse(place) as KillPlace, Number(round), (what) =>
  writeSync(1, `${JSON.stringify(what)}\n`),
);

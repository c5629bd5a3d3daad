import { existsSync } from 'node:fs';
import { expect, it } from 'vitest';
import { LONGEST } from './long-first.js';

it('files that are to begin first are there, under the name that is given', () => {
  const names = Object.keys(LONGEST);
  expect(names.filter((name) => !existsSync(`tests/${name}`))).toEqual([]);
});

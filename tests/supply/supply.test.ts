import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { findOutside, type MeantWay } from './outside.js';
import { isAllowed, lockedPackages } from './packages.js';

const packages = lockedPackages();

describe('what the product rests on', () => {
  it('is pinned to the figure, in both files', () => {
    const { dependencies, devDependencies } = JSON.parse(readFileSync('package.json', 'utf8')) as Record<
      string,
      Record<string, string>
    >;
    const wanted = Object.entries({ ...dependencies, ...devDependencies });
    expect(wanted.length).toBeGreaterThan(30);
    expect(wanted.filter(([, version]) => !/^\d+\.\d+\.\d+(?:-[\w.]+)?$/.test(version))).toEqual([]);
    expect(packages.filter((one) => !/^\d+\.\d+\.\d+(?:[-+][\w.+-]+)?$/.test(one.version))).toEqual([]);
    for (const [name, version] of wanted)
      expect(
        packages.some((one) => one.name === name && one.version === version),
        `${name} ${version}`,
      ).toBe(true);
  });

  it('has a licence that allows it to be passed on', () => {
    expect(packages.length).toBeGreaterThan(300);
    expect(packages.filter((one) => !isAllowed(one))).toEqual([]);
  });

  it.each([
    ['GPL-3.0-only', false, false],
    ['', false, false],
    ['MPL-2.0', false, false],
    ['MPL-2.0', true, true],
    ['LGPL-3.0-or-later', false, false],
    ['(MIT OR GPL-3.0-only)', false, true],
    ['MIT AND GPL-3.0-only', false, false],
    ['UNLICENSED', true, false],
  ])('would not let pass what does not: %s, for the workshop %s', (licence, dev, allowed) => {
    expect(isAllowed({ name: 'planted', licence, dev })).toBe(allowed);
  });

  it('names no place it was fetched from, so that any mirror serves', () => {
    expect(packages.filter((one) => one.resolved !== undefined)).toEqual([]);
    expect(readFileSync('package-lock.json', 'utf8')).not.toMatch(
      /"(?:resolved|registry)"|https?:\/\/registry/,
    );
  });
});

/** Ways to other machines that are meant, and only there. */
const MEANT: readonly MeantWay[] = [
  {
    file: /^server\/access\//,
    way: 'a module that opens connections',
    why: 'reads addresses (isIP, BlockList); opens none',
  },
  {
    file: /^server\/live-app\.ts$/,
    way: 'fetch',
    why: 'the name of the app’s own entry, which the listener calls',
  },
  {
    file: /^sources\//,
    way: 'a name',
    why: 'where publications were read; shown as text for people, opened by nobody',
  },
  {
    file: /^server\/access\/provider\.ts$/,
    way: 'a package that opens connections',
    why: 'the sign-in server that the operator names',
  },
];

describe('nothing asks another machine', () => {
  it('in the source, its templates and the knowledge base', () => {
    for (const root of ['src', 'bin', 'knowledge-base']) {
      const { files, found } = findOutside(root, MEANT);
      expect(files).toBeGreaterThan(0);
      expect(found).toEqual([]);
    }
  });

  it.each([
    ['a.ts', "await fetch('/x');"],
    ['a.ts', "import { request } from 'node:https';"],
    ['a.ts', "import {\n  connect,\n} from 'node:net';"],
    ['a.js', 'navigator.sendBeacon("/x")'],
    ['a.eta', '<img src="https://pictures.elsewhere.com/1.png">'],
    ['a.css', "@import 'https://fonts.elsewhere.com/a.css';"],
    ['a.ts', "import got from 'got';"],
  ])('and would be seen: %s %s', (name, text) => {
    const root = mkdtempSync(join(tmpdir(), 'outside-'));
    try {
      writeFileSync(join(root, name), text);
      expect(findOutside(root).found).not.toEqual([]);
    } finally {
      rmSync(root, { recursive: true, force: true });
    }
  });
});

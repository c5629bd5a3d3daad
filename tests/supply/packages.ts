import { readFileSync } from 'node:fs';

/** A package as the lock file pins it. */
export interface LockedPackage {
  readonly name: string;
  readonly version: string;
  /** An SPDX expression; empty when the package names none. */
  readonly licence: string;
  /** Needed for working on the product only. */
  readonly dev: boolean;
  /** Where the lock file says it came from; undefined when it does not. */
  readonly resolved: string | undefined;
}

interface Lock {
  readonly packages: Readonly<
    Record<
      string,
      {
        readonly version?: string;
        readonly license?: string;
        readonly dev?: boolean;
        readonly resolved?: string;
      }
    >
  >;
}

/** Packages that name their licence in their own old way, which the lock file passes over; read in the package. */
const NAMED_ELSEWHERE: Readonly<Record<string, string>> = { 'enhanced-resolve@4.5.0': 'MIT' };

/** Every package of the lock file but the product itself. */
export function lockedPackages(file = 'package-lock.json'): LockedPackage[] {
  const { packages } = JSON.parse(readFileSync(file, 'utf8')) as Lock;
  return Object.entries(packages).flatMap(([path, one]) => {
    if (path === '') return [];
    const name = path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length);
    const version = one.version ?? '';
    return [
      {
        name,
        version,
        licence: one.license ?? NAMED_ELSEWHERE[`${name}@${version}`] ?? '',
        dev: one.dev === true,
        resolved: one.resolved,
      },
    ];
  });
}

/** Licences under which a package may be passed on with the product, changed or not, with its notice. */
const FREE = [
  '0BSD',
  'Apache-2.0',
  'BSD-0-Clause',
  'BSD-2-Clause',
  'BSD-3-Clause',
  'BSL-1.0',
  'BlueOak-1.0.0',
  'CC0-1.0',
  'ISC',
  'MIT',
  'Unlicense',
  'Zlib',
];
/**
 * Licences that ask for more, and for what they are taken: `libvips`, the library that draws pictures anew, stands beside
 * the product as a library of its own, unchanged, and can be exchanged.
 */
const FOR_ONE: Readonly<Record<string, RegExp>> = { 'LGPL-3.0-or-later': /^@img\/sharp-/ };
/** Licences for tools that never leave the workshop. */
const FOR_TOOLS = ['MPL-2.0'];

/** Whether a package may be used, by its licence; of several to choose from one has to do, of several that hold all. */
export function isAllowed({ name, licence, dev }: Pick<LockedPackage, 'name' | 'licence' | 'dev'>): boolean {
  const one = (id: string) =>
    FREE.includes(id) || (dev && FOR_TOOLS.includes(id)) || FOR_ONE[id]?.test(name) === true;
  const plain = licence.replace(/[()]/g, '').trim();
  // An expression that mixes both would have to be read with its brackets; there is none, and it would be refused.
  if (/ OR /.test(plain) && / AND /.test(plain)) return false;
  return / OR /.test(plain) ? plain.split(' OR ').some(one) : plain.split(' AND ').every(one);
}

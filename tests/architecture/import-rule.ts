import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';

/** Folders of `src` and the folders each may import from, besides itself. */
export const ALLOWED: Readonly<Record<string, readonly string[]>> = {
  language: [],
  spinning: ['language'],
  statistics: ['language'],
  rules: ['language', 'spinning', 'statistics'],
  journal: ['language', 'rules', 'statistics', 'spinning'],
  server: ['language', 'rules', 'spinning', 'statistics', 'journal', 'templates'],
  templates: ['rules', 'server'],
  cli: ['language', 'rules', 'spinning', 'statistics', 'journal', 'server'],
};

/** Packages that only one file (or folder) may import, so that they can be exchanged. */
export const CONFINED: Readonly<Record<string, readonly string[]>> = {
  'json-rules-engine': ['rules/conditions'],
  eta: ['server/render.ts'],
  kysely: ['journal'],
  'better-sqlite3': ['journal'],
  pg: ['journal'],
  luxon: ['journal/zone'],
  sharp: ['journal/complaints'],
  pino: ['server/operating/logger.ts'],
  'prom-client': ['server/operating/metrics.ts'],
  'intl-messageformat': ['language'],
  '@node-rs/argon2': ['server/access'],
  '@zxcvbn-ts/core': ['server/access'],
  '@zxcvbn-ts/language-common': ['server/access'],
  'rate-limiter-flexible': ['server/access'],
  'openid-client': ['server/access'],
};

/** Folders that compute: nothing from Node but what is listed. */
const PURE: Readonly<Record<string, readonly string[]>> = { spinning: [], statistics: ['node:stream'] };

/** Imports of one file, as written. */
export function importsOf(text: string): { specifier: string; typeOnly: boolean }[] {
  const pattern =
    /^\s*(import|export)\s+(type\s+)?(?:[^'"`;]*?\sfrom\s+)?['"]([^'"]+)['"]|import\(\s*['"]([^'"]+)['"]\s*\)/gm;
  return [...text.matchAll(pattern)].map((match) => ({
    specifier: match[3] ?? match[4] ?? '',
    typeOnly: match[2] !== undefined,
  }));
}

/** Every TypeScript file below a folder. */
export function sourceFiles(root: string): string[] {
  return readdirSync(root, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.ts') && !entry.name.endsWith('.d.ts'))
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();
}

/** What breaks the import rule, one sentence each. */
export function findViolations(root: string): { files: number; violations: string[] } {
  const files = sourceFiles(root);
  const violations: string[] = [];
  for (const file of files) {
    const place = relative(root, file).split(sep).join('/');
    const folder = place.split('/')[0] ?? '';
    for (const { specifier, typeOnly } of importsOf(readFileSync(file, 'utf8'))) {
      if (specifier.startsWith('.')) {
        const target = relative(root, resolve(dirname(file), specifier))
          .split(sep)
          .join('/');
        const other = target.split('/')[0] ?? '';
        if (target.startsWith('..')) violations.push(`${place} reaches outside src: ${specifier}`);
        else if (other !== folder && ALLOWED[folder] !== undefined && !ALLOWED[folder].includes(other))
          violations.push(`${place} imports ${other}, which ${folder} may not`);
        else if (other === 'journal' && folder !== 'journal' && target !== 'journal/index.js')
          violations.push(`${place} imports ${target}; the journal is reached through journal/index.js`);
        else if (folder === 'templates' && other !== folder && !typeOnly)
          violations.push(`${place} may import types only from ${other}`);
        else if (folder === 'journal' && other === 'rules' && !typeOnly)
          violations.push(`${place} may import types only from rules`);
        continue;
      }
      const name = specifier.startsWith('@')
        ? specifier.split('/').slice(0, 2).join('/')
        : (specifier.split('/')[0] ?? '');
      const homes = CONFINED[name];
      if (homes !== undefined && !homes.some((home) => place === home || place.startsWith(`${home}/`)))
        violations.push(`${place} imports ${name}, which belongs to ${homes.join(', ')} alone`);
      const pure = PURE[folder];
      if (pure !== undefined && specifier.startsWith('node:') && !pure.includes(specifier))
        violations.push(`${place} imports ${specifier}; ${folder} only computes`);
    }
  }
  return { files: files.length, violations };
}

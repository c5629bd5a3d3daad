import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { SAMPLES } from '../../src/server/counts/samples.js';

const textsOf = (folder: string): string[] =>
  readdirSync(folder)
    .filter((name) => name.endsWith('.yaml'))
    .sort()
    .map((name) => readFileSync(join(folder, name), 'utf8'));

/** The product's own case files, and some that try to hurt. */
export const CASE_TEXTS: readonly string[] = [
  ...textsOf('knowledge-base/cases/examples'),
  '{"setup": {"fibre": "cotton", "count": "20 Ne"}, "observations": {"end-breaks": "marked"}}',
  'setup: &s {fibre: cotton, count: 20 Ne}\nbefore: *s\nobservations: {end-breaks: marked}\n',
];

/** Aliases that would grow to more than a thousand million entries, and the same through merge keys. */
export const BOMBS: readonly string[] = [
  [
    'a: &a [x, x, x, x, x, x, x, x, x, x]',
    ...'bcdefghij'
      .split('')
      .map((name, n) => `${name}: &${name} [${Array(10).fill(`*${'abcdefghij'[n]}`).join(', ')}]`),
  ].join('\n'),
  [
    'a: &a {x: 1}',
    ...'bcdefghij'
      .split('')
      .map(
        (name, n) =>
          `${name}: &${name} {p: *${'abcdefghij'[n]}, q: *${'abcdefghij'[n]}, r: *${'abcdefghij'[n]}}`,
      ),
    '<<: *j',
  ].join('\n'),
  'a: &a [*a]\n',
  'setup: &s\n  before: *s\n',
  `${'['.repeat(20_000)}${']'.repeat(20_000)}`,
  `${'{a: '.repeat(5000)}1${'}'.repeat(5000)}`,
  `${'- '.repeat(10_000)}x`,
  `${'? '.repeat(5000)}x`,
  `"${'\\u0041'.repeat(20_000)}"`,
  `setup: {count: ${'9'.repeat(100_000)}}`,
  `${'a: 1\n'.repeat(20_000)}`,
  Array.from({ length: 20_000 }, (_, n) => `k${n}: ${n}`).join('\n'),
  `setup: |\n${'  x\n'.repeat(40_000)}`,
  `&${'a'.repeat(50_000)} x`,
  `!!${'a'.repeat(50_000)} x`,
  '--- a\n'.repeat(10_000),
  '%YAML 9.9\n---\nsetup: {}\n',
  '__proto__: {polluted: yes}\nconstructor: {prototype: {polluted: yes}}\nsetup: {__proto__: {fibre: cotton}}\n',
];

/** Tables of breaks of every kind the product shows, shortened. */
export const TABLE_TEXTS: readonly string[] = [
  ...Object.values(SAMPLES).map((sample) => sample.make().split('\n').slice(0, 12).join('\n')),
  'Frame,Position,Breaks,Hours\n3,1,0,24\n3,2,4,24\n3,10,1,24\n',
  'Time;Frame;Spinning position;Stop reason\n24.11.2026 06:12;7;12;end break\n24.11.2026 06:20;7;12;"sliver; out"\n',
  'Hall 2\n\nDate\tShift\tFrame\tBreaks\tRun (min)\n23.11.2026\tA\t4\t12\t470,5\nTotal\t\t\t12\t\n',
  'date,breaks\n03/04/2026,3\n04/04/2026,4\n',
];

/** Files of the knowledge base, one of each kind. */
export const KNOWLEDGE_TEXTS: readonly {
  readonly kind: 'cause' | 'check' | 'action' | 'mechanism' | 'symptom';
  readonly text: string;
}[] = (['cause', 'check', 'action', 'mechanism', 'symptom'] as const).flatMap((kind) =>
  textsOf(`knowledge-base/${kind}s`)
    .slice(0, 6)
    .map((text) => ({ kind, text })),
);

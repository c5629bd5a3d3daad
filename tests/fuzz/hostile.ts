import fc from 'fast-check';

/**
 * A mark that must never come back as markup: whatever the pages show of what was typed has to show it escaped.
 * No page of the product holds it by itself.
 */
export const MARK = '<zq9 onload=x>"\'';

/** Texts that have broken readers of all kinds. */
export const HOSTILE_TEXTS: readonly string[] = [
  '',
  ' ',
  '\0',
  '\n',
  '\r\n',
  '\t',
  '\ufeff',
  '\u2028',
  '\u202e',
  '\ud800',
  '\udfff\ud800',
  '\u0007\u001b[2J',
  '🧵'.repeat(40),
  'é'.normalize('NFD').repeat(30),
  '__proto__',
  'constructor',
  'prototype',
  'toString',
  'hasOwnProperty',
  'setup.__proto__',
  'observations.constructor',
  'null',
  'undefined',
  'NaN',
  'true',
  '[object Object]',
  '{}',
  '[]',
  '-0',
  '0',
  '1',
  '-1',
  '0x10',
  '1e999',
  '-1e999',
  '1e-400',
  '9007199254740993',
  '99999999999999999999999999',
  '1,234',
  '1.234,5',
  '½',
  '٣',
  '1'.repeat(400),
  'a'.repeat(3000),
  '('.repeat(500),
  '../../../../etc/passwd',
  '..%2f..%2fshell.eta',
  '%00',
  '%',
  '%zz',
  '//elsewhere.test/x',
  'https://elsewhere.test/',
  '\\\\elsewhere.test\\x',
  'javascript:alert(1)',
  'data:text/html,x',
  MARK,
  `</script>${MARK}`,
  '<!--',
  ']]>',
  "' OR 1=1 --",
  '"; DROP TABLE cases; --',
  '$(id)',
  '`id`',
  '{{7*7}}',
  '<%= 7*7 %>',
  '#{7*7}',
  '=1+1',
  '+1',
  '@SUM(A1)',
  '\r\nSet-Cookie: a=b',
  'x\r\nX-Injected: 1',
  '*a',
  '&a [*a, *a]',
  '!!js/function',
  '!<tag:x>',
  '<<: *x',
  '2026-02-30',
  '2026-03-02T06:15:00Z',
  '0000-00-00',
  '+275760-09-13T00:00:00Z',
  '99:99',
  'case-0',
  'case-1',
  'case-999999999',
  'complaint-1',
  'frame-1',
  'photo-00000000-0000-0000-0000-000000000000',
  'not-given',
  '20 Ne',
  '50 cotton',
  'cotton:50,polyester:50',
  'marked',
  'absent',
];

/** Any character that can stand in a text; the library's own first builds a table of them all. */
const anyCharacter: fc.Arbitrary<string> = fc
  .oneof(
    fc.nat(0xd7ff),
    fc.integer({ min: 0xe000, max: 0xffff }),
    fc.integer({ min: 0x10000, max: 0x10ffff }),
  )
  .map((code) => String.fromCodePoint(code));

/** One of the texts above, or a short one of any characters. */
export const hostileText: fc.Arbitrary<string> = fc.oneof(
  { weight: 6, arbitrary: fc.constantFrom(...HOSTILE_TEXTS) },
  { weight: 1, arbitrary: fc.array(anyCharacter, { maxLength: 24 }).map((some) => some.join('')) },
  { weight: 2, arbitrary: fc.string({ maxLength: 16 }) },
  { weight: 1, arbitrary: fc.double().map(String) },
);

/** A scalar of any kind JSON knows. */
const hostileScalar: fc.Arbitrary<unknown> = fc.oneof(
  hostileText,
  fc.constantFrom<unknown>(null, true, false, 0, -1, 1e308, -1e308, 5e-324, 2 ** 53, 0.1, Number.MAX_VALUE),
  fc.integer(),
);

/** Any JSON, hostile keys among its keys. */
export const hostileJson: fc.Arbitrary<unknown> = fc.letrec<{ value: unknown }>((tie) => ({
  value: fc.oneof(
    { maxDepth: 4, depthSize: 'small' },
    { weight: 5, arbitrary: hostileScalar },
    { weight: 1, arbitrary: fc.array(tie('value'), { maxLength: 4 }) },
    {
      weight: 2,
      arbitrary: fc
        .array(fc.tuple(hostileText, tie('value')), { maxLength: 4 })
        // Unlike assignment, this makes an own key even of "__proto__".
        .map((entries) => Object.fromEntries(entries)),
    },
  ),
})).value;

/** A change to a text: where (as a share of its length), how much of it, what is done. */
interface Edit {
  readonly at: number;
  readonly length: number;
  readonly kind: 'insert' | 'replace' | 'delete' | 'repeat' | 'move' | 'case';
  readonly text: string;
}

const edit: fc.Arbitrary<Edit> = fc.record({
  at: fc.double({ min: 0, max: 1, noNaN: true }),
  length: fc.oneof(fc.nat({ max: 6 }), fc.nat({ max: 200 })),
  kind: fc.constantFrom<Edit['kind']>(
    'insert',
    'insert',
    'replace',
    'replace',
    'delete',
    'repeat',
    'move',
    'case',
  ),
  text: hostileText,
});

function apply(text: string, one: Edit): string {
  const start = Math.floor(one.at * text.length);
  const piece = text.slice(start, start + one.length);
  const [head, tail] = [text.slice(0, start), text.slice(start + one.length)];
  switch (one.kind) {
    case 'insert':
      return head + one.text + text.slice(start);
    case 'replace':
      return head + one.text + tail;
    case 'delete':
      return head + tail;
    case 'repeat':
      return head + piece.repeat(3) + tail;
    case 'move':
      return piece + head + tail;
    case 'case':
      return head + piece.toUpperCase() + tail;
  }
}

/** One of the given texts with some changes; now and then left as it is. */
export const changedText = (texts: readonly string[], mostEdits = 4): fc.Arbitrary<string> =>
  fc
    .tuple(fc.constantFrom(...texts), fc.array(edit, { maxLength: mostEdits }))
    .map(([text, edits]) => edits.reduce(apply, text));

/** The same as bytes, some of them flipped, so that they are no longer UTF-8. */
export const changedBytes = (texts: readonly string[]): fc.Arbitrary<Uint8Array> =>
  fc
    .tuple(
      changedText(texts),
      fc.array(fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.nat(255)), { maxLength: 3 }),
    )
    .map(([text, flips]) => {
      const bytes = new Uint8Array(Buffer.from(text));
      for (const [at, byte] of flips)
        if (bytes.length > 0) bytes[Math.min(bytes.length - 1, Math.floor(at * bytes.length))] = byte;
      return bytes;
    });

/** Data like the given one, with parts exchanged for, or joined by, hostile ones. */
export const changedJson = (samples: readonly unknown[]): fc.Arbitrary<unknown> =>
  fc
    .tuple(
      fc.constantFrom(...samples),
      fc.array(
        fc.tuple(fc.nat(), fc.constantFrom('set', 'set', 'drop', 'add', 'wrap'), hostileJson, hostileText),
        {
          maxLength: 3,
        },
      ),
    )
    .map(([sample, changes]) =>
      changes.reduce<unknown>(
        (value, [place, kind, hostile, key]) => changeAt(value, place, kind, hostile, key),
        structuredClone(sample),
      ),
    );

function changeAt(value: unknown, place: number, kind: string, hostile: unknown, key: string): unknown {
  const spots: { holder: Record<string, unknown> | unknown[]; key: string }[] = [];
  const walk = (inner: unknown) => {
    if (typeof inner !== 'object' || inner === null) return;
    for (const name of Object.keys(inner)) {
      spots.push({ holder: inner as Record<string, unknown>, key: name });
      walk(Reflect.get(inner, name));
    }
  };
  walk(value);
  const spot = spots[place % (spots.length + 1)];
  if (spot === undefined) return kind === 'set' ? hostile : value;
  const define = (name: string, given: unknown) =>
    Object.defineProperty(spot.holder, name, {
      value: given,
      enumerable: true,
      configurable: true,
      writable: true,
    });
  if (kind === 'drop') {
    if (Array.isArray(spot.holder)) spot.holder.splice(Number(spot.key), 1);
    else delete spot.holder[spot.key];
  } else if (kind === 'add') {
    if (Array.isArray(spot.holder)) spot.holder.push(hostile);
    else define(key, hostile);
  } else if (kind === 'wrap') define(spot.key, [Reflect.get(spot.holder, spot.key)]);
  else define(spot.key, hostile);
  return value;
}

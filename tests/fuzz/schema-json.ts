import fc from 'fast-check';
import { z } from 'zod';
import { changedJson, hostileJson, hostileText } from './hostile.js';

type Shape = Record<string, unknown>;

const SETUP = {
  fibre: 'cotton',
  count: '20 Ne',
  'end-use': 'weft',
  twist: '4.3 alpha-e',
  rotor: { diameter: '33 mm', speed: '105000 rpm' },
  nozzle: { surface: 'notched', notches: 4 },
};
const CASE_FILE = {
  setup: SETUP,
  observations: { 'end-breaks': 'marked', 'fly-machine': 'absent' },
  scope: 'frame',
  findings: { 'groove-look': 'clean' },
  measurements: { 'end-breaks': { count: 41, 'rotor-hours': 240, 'norm-per-1000': 90 } },
};
/** Data that a client would send; where a schema takes one as it is, it is changed like those made from the schema. */
const WHOLE: readonly unknown[] = [
  CASE_FILE,
  { quantity: '4.3 alpha-e', unit: 't/m', count: '20 Ne' },
  { setup: SETUP, changes: ['lot'], note: 'as planned' },
  { title: 'Ends break', frame: 'frame-1', file: CASE_FILE },
  { seen: 1, file: CASE_FILE },
  { file: CASE_FILE },
  { case: CASE_FILE },
];

/**
 * Data for a schema: most of it as the schema wants it, then changed in places, so that readers are reached beyond
 * their first refusal. A new schema needs nothing here.
 */
export function jsonFor(schema: z.ZodType): fc.Arbitrary<unknown> {
  const shape = z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' }) as Shape;
  const made = fc.sample(valid(shape, shape, 0), { numRuns: 40, seed: 7 });
  const known = WHOLE.filter((one) => schema.safeParse(one).success);
  // As many of the whole ones as of those made up, so that readers are reached that look further than the schema.
  const samples = [
    ...made,
    ...known.flatMap((one) => Array<unknown>(Math.ceil(40 / known.length)).fill(one)),
  ];
  return fc.oneof(
    { weight: 8, arbitrary: changedJson(samples) },
    { weight: 1, arbitrary: fc.constantFrom(...samples) },
    { weight: 1, arbitrary: hostileJson },
  );
}

function valid(shape: Shape, root: Shape, depth: number): fc.Arbitrary<unknown> {
  const ref = shape.$ref;
  if (typeof ref === 'string') {
    const target = ref
      .replace(/^#\/?/, '')
      .split('/')
      .filter((part) => part !== '')
      .reduce<unknown>((at, part) => Reflect.get(at as object, part), root) as Shape;
    return depth > 6 ? fc.constant(null) : valid(target, root, depth + 1);
  }
  if ('const' in shape) return fc.constant(shape.const);
  if (Array.isArray(shape.enum)) return fc.constantFrom(...shape.enum);
  const either = (shape.anyOf ?? shape.oneOf) as Shape[] | undefined;
  if (either !== undefined) return fc.oneof(...either.map((one) => valid(one, root, depth + 1)));
  switch (shape.type) {
    case 'object': {
      const needed = new Set((shape.required as string[] | undefined) ?? []);
      const properties = Object.entries((shape.properties as Record<string, Shape> | undefined) ?? {});
      const own = fc
        .tuple(
          ...properties.map(([name, one]) =>
            fc.tuple(
              fc.constant(name),
              valid(one, root, depth + 1),
              needed.has(name) ? fc.constant(true) : fc.boolean(),
            ),
          ),
        )
        .map((entries) =>
          Object.fromEntries(entries.filter(([, , kept]) => kept).map(([name, value]) => [name, value])),
        );
      if (properties.length > 0 || typeof shape.additionalProperties !== 'object') return own;
      const value = valid(shape.additionalProperties as Shape, root, depth + 1);
      return fc
        .array(
          fc.tuple(
            fc.oneof(fc.constantFrom('twist', 'count', 'fibre', 'end-breaks', 'rotor'), hostileText),
            value,
          ),
          { maxLength: 3 },
        )
        .map((entries) => Object.fromEntries(entries));
    }
    case 'array':
      return fc.array(valid((shape.items as Shape | undefined) ?? {}, root, depth + 1), { maxLength: 3 });
    case 'integer':
    case 'number':
      return fc.oneof(fc.integer({ min: 1, max: 40 }), fc.constantFrom(0, 0.5, 100, 5000));
    case 'boolean':
      return fc.boolean();
    case 'null':
      return fc.constant(null);
    case 'string':
      return validText(shape);
    default:
      return fc.oneof(fc.constantFrom<unknown>('20 Ne', 'cotton', 'weft', 4.3), hostileJson);
  }
}

function validText(shape: Shape): fc.Arbitrary<string> {
  if (shape.format === 'date-time')
    return fc.constantFrom('2026-03-02T06:15:00Z', '2025-01-01T00:00:00.000Z', '2026-03-02T07:15:00+01:00');
  return fc.constantFrom(
    'frame-1',
    'twist-too-low',
    'nozzle-look',
    'weft-20',
    'Ruth',
    'a line of text',
    '20 Ne',
    'tex',
  );
}

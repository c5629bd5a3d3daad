import { say } from '../../language/say.js';
import { readQuantity } from '../../spinning/units/quantity.js';
import { readCaseText } from '../case/case-text.js';
import { isLeftOut, type Path, type Reading, readMap, readWord, refuse } from '../case/reading.js';
import { INSERTS, NOZZLE_MATERIALS } from '../case/setup-fields.js';
import type { CaseProblem } from '../case/types.js';
import { TEXTURES } from '../knowledge/end-use-schema.js';
import type { Stock } from './types.js';

export type StockReading =
  | { readonly ok: true; readonly stock: Stock }
  | { readonly ok: false; readonly problems: readonly CaseProblem[] };

/** Ranges that a part can have at all, as for the setup. */
const RADIUS = [0.5, 15] as const;
const BEND = [0, 120] as const;
const WASHER = [0.05, 5] as const;
const MOST_PARTS = 200;

/**
 * Reads a list of the parts on the shelf, YAML or JSON:
 *
 * ```yaml
 * nozzles:
 *   - {texture: 4-notches, radius: 4 mm, material: ceramic}
 *   - {texture: spiral}          # radius and material as on the frame
 * inserts: [smooth, 2-groove]
 * tubes: [30 deg, 45 deg]
 * washers: [0.5 mm]
 * ```
 *
 * A kind that is left out is taken to be there in every usual size; an empty list says that there is none.
 *
 * @returns the stock, or every problem with field, value, what is allowed and line; never throws
 */
export function readStock(text: string): StockReading {
  const result = readCaseText(text);
  if (!result.ok) return result;
  const reading: Reading = {
    vocabulary: {
      symptoms: new Set(),
      checks: new Map(),
      actions: new Set(),
      fibres: new Set(),
      endUses: new Set(),
    },
    problems: [],
    warnings: [],
    lineOf: result.lineOf,
  };
  // An empty list has to be told from a key that was left out, which the reader of maps would drop.
  const top =
    readMap(reading, [], result.data ?? {}, ['nozzles', 'inserts', 'tubes', 'washers']) ?? new Map();
  const list = <T>(key: string, read: (path: Path, value: unknown) => T | undefined): T[] | undefined => {
    const value: unknown = top.get(key);
    if (isLeftOut(value)) return undefined;
    if (!Array.isArray(value) || value.length > MOST_PARTS)
      return refuse(reading, [key], value, say('plan-words.must-list'), [
        say('plan-words.list-of-parts', { n: MOST_PARTS }),
      ]);
    return value.flatMap((one: unknown, i) => read([key, String(i)], one) ?? []);
  };
  const number = (path: Path, value: unknown, kind: 'length' | 'angle', range: readonly [number, number]) => {
    const unit = kind === 'length' ? 'mm' : 'deg';
    const allowed = [say('plan-words.range-unit', { low: range[0], high: range[1], unit })];
    if (typeof value !== 'string' && typeof value !== 'number')
      return refuse(reading, path, value, say('plan-words.must-number'), allowed);
    const read = readQuantity(value, kind);
    if (!read.ok) return refuse(reading, path, value, read.reason, read.allowed);
    return read.value < range[0] || read.value > range[1]
      ? refuse(reading, path, value, say('plan-words.not-possible'), allowed)
      : read.value;
  };
  const nozzles = list('nozzles', (path, value) => {
    const part = readMap(reading, path, value, ['texture', 'radius', 'material']);
    if (part === undefined) return undefined;
    const texture = part.has('texture')
      ? readWord(reading, [...path, 'texture'], part.get('texture'), TEXTURES)
      : undefined;
    const radiusMm = part.has('radius')
      ? number([...path, 'radius'], part.get('radius'), 'length', RADIUS)
      : undefined;
    const material = part.has('material')
      ? readWord(reading, [...path, 'material'], part.get('material'), NOZZLE_MATERIALS)
      : undefined;
    return {
      ...(texture === undefined ? {} : { texture }),
      ...(radiusMm === undefined ? {} : { radiusMm }),
      ...(material === undefined ? {} : { material }),
    };
  });
  const inserts = list('inserts', (path, value) => readWord(reading, path, value, INSERTS));
  const tubesDeg = list('tubes', (path, value) => number(path, value, 'angle', BEND));
  const washersMm = list('washers', (path, value) => number(path, value, 'length', WASHER));
  if (reading.problems.length > 0) return { ok: false, problems: reading.problems };
  return {
    ok: true,
    stock: {
      ...(nozzles === undefined ? {} : { nozzles }),
      ...(inserts === undefined ? {} : { inserts }),
      ...(tubesDeg === undefined ? {} : { tubesDeg }),
      ...(washersMm === undefined ? {} : { washersMm }),
    },
  };
}

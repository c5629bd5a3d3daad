/**
 * Pictures are SVG built from elements, never from strings, so that every text in them is escaped. Looks come from
 * the style sheet's classes alone: the content-security policy forbids style attributes and scripts.
 */

/** A finished piece of SVG; only {@link element} makes one. */
export interface Picture {
  readonly markup: string;
}

type Attributes = Readonly<Record<string, string | number | undefined>>;

const made = new WeakSet<object>();
const NAME = /^[a-z][a-zA-Z0-9-]*$/;
/** Names that were looked at and may stand; a picture has the same few hundreds of times. */
const goodElements = new Set<string>();
const goodAttributes = new Set<string>();
/** Names come from the program; should they ever come from elsewhere, they do not pile up. */
const MOST_NAMES = 500;

function isGood(name: string, known: Set<string>, judge: (name: string) => boolean): boolean {
  if (known.has(name)) return true;
  if (!judge(name)) return false;
  if (known.size < MOST_NAMES) known.add(name);
  return true;
}

const mayBeElement = (name: string) => NAME.test(name) && name !== 'script' && name !== 'style';
const mayBeAttribute = (name: string) => NAME.test(name) && name !== 'style' && !/^on/i.test(name);

/**
 * An SVG element.
 *
 * @param children pictures, or texts to be escaped
 * @throws RangeError for a style or event attribute, or a name that is none
 */
export function element(
  name: string,
  attributes: Attributes,
  ...children: readonly (Picture | string | undefined)[]
): Picture {
  if (!isGood(name, goodElements, mayBeElement)) throw new RangeError(`no element "${name}"`);
  let markup = `<${name}`;
  for (const [key, value] of Object.entries(attributes)) {
    if (value === undefined) continue;
    if (!isGood(key, goodAttributes, mayBeAttribute)) throw new RangeError(`no attribute "${key}"`);
    markup += ` ${key}="${typeof value === 'number' ? round(value) : escapeText(value)}"`;
  }
  markup += '>';
  for (const child of children)
    if (child !== undefined) markup += typeof child === 'string' ? escapeText(child) : markupOf(child);
  const picture: Picture = Object.freeze({ markup: `${markup}</${name}>` });
  made.add(picture);
  return picture;
}

/** The markup of a picture made here. @throws TypeError for anything else, so that no foreign markup gets through */
export function markupOf(picture: unknown): string {
  if (typeof picture !== 'object' || picture === null || !made.has(picture))
    throw new TypeError('only a picture made by element() may be put on a page');
  return (picture as Picture).markup;
}

/** Escapes a text for element content and quoted attributes. */
export function escapeText(text: string): string {
  // Most have nothing to escape.
  if (!/[&<>"']/.test(text)) return text;
  return text
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;')
    .replace(/'/g, '&#39;');
}

const round = (value: number) => String(Math.round(value * 100) / 100);

/** Breaks a text into lines of at most so many characters, between words where it can; the last line may end in "…". */
export function wrapText(text: string, most: number, lines: number): string[] {
  const words = text
    .split(/\s+/)
    .flatMap((word) => (word.length > most ? (word.match(new RegExp(`.{1,${most}}`, 'gu')) ?? []) : [word]));
  const wrapped: string[] = [];
  let line = '';
  for (const word of words) {
    if (line === '') line = word;
    else if (line.length + 1 + word.length <= most) line += ` ${word}`;
    else {
      wrapped.push(line);
      line = word;
    }
  }
  if (line !== '') wrapped.push(line);
  if (wrapped.length <= lines) return wrapped;
  const kept = wrapped.slice(0, lines);
  const last = kept[lines - 1] ?? '';
  kept[lines - 1] = `${last.slice(0, most - 1)}…`;
  return kept;
}

/** Lines of text, one below the other. */
export function textLines(
  lines: readonly string[],
  at: { readonly x: number; readonly y: number; readonly step: number },
  attributes: Attributes = {},
): Picture {
  return element(
    'text',
    { x: at.x, y: at.y, ...attributes },
    ...lines.map((line, i) => element('tspan', { x: at.x, dy: i === 0 ? 0 : at.step }, line)),
  );
}

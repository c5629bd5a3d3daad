/** Elements whose text is the same in every language, or that nobody reads. */
const SKIPPED = /<(script|style|code|kbd|textarea)\b[\s\S]*?<\/\1>|<form class="languages"[\s\S]*?<\/form>/g;
const READ_OUT = /\s(?:aria-label|title|alt|placeholder|data-title)="([^"]*)"/g;
/** Names of the program and its formats; dates; versions of the knowledge. */
const NAMES = /\b(?:Peelpoint|YAML|JSON|CSV|TSV|PDF|SVG|API|\d{1,2} \p{L}{3,9} \d{4}|[0-9a-f]{12})\b/gu;

/**
 * Texts of a page in the made-up language (`ar-XB`) that are no messages: what is left when everything in brackets is
 * taken away, as far as it has words.
 * @param data what is the reader's own and the same in every language, such as names of frames
 */
export function strayTexts(html: string, data: readonly (string | RegExp)[] = []): string[] {
  const shown = html.replace(SKIPPED, ' ');
  const texts = [
    ...shown.split(/<[^>]*>/),
    ...[...shown.matchAll(READ_OUT)].map((match) => match[1] ?? ''),
  ].map(plain);
  const left = texts.map((text) =>
    data
      .reduce<string>(
        (rest, own) => rest.replaceAll(typeof own === 'string' ? own : new RegExp(own, 'g'), ' '),
        outside(text),
      )
      .replace(NAMES, ' '),
  );
  return [
    ...new Set(left.map((text) => text.replace(/\s+/g, ' ').trim()).filter((text) => /\p{L}{3}/u.test(text))),
  ];
}

/** Texts of a page in another language that stand in English for want of a translation. */
export const untranslated = (html: string): string[] => [
  ...new Set(
    [...html.matchAll(/<span lang="en" dir="ltr">([^<]*)/g)].map((match) => plain(match[1] ?? '').trim()),
  ),
];

/** What of a text is not in brackets. */
function outside(text: string): string {
  let depth = 0;
  let out = '';
  for (const sign of text) {
    if (sign === '[') depth++;
    else if (sign === ']' && depth > 0) depth--;
    else if (depth === 0) out += sign;
  }
  return out;
}

const plain = (text: string) =>
  text
    .replace(/&quot;/g, '"')
    .replace(/&#39;/g, "'")
    .replace(/&lt;/g, '<')
    .replace(/&gt;/g, '>')
    .replace(/&amp;/g, '&');

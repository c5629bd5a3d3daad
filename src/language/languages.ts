/** A language the pages can be read in. */
export interface LanguageInfo {
  /** Its name in itself. */
  readonly name: string;
  /** Tag for `Intl` and for the `lang` of a page. */
  readonly tag: string;
  readonly direction: 'ltr' | 'rtl';
  /** Whether someone who spins and speaks it from home has read the texts. */
  readonly reviewed: boolean;
  /** Offered to readers; a language for tests is not. */
  readonly offered: boolean;
}

/**
 * Every language there is a catalogue for. `ar-XB` is the usual tag of a made-up language for tests: English in
 * brackets, lengthened, laid out from right to left.
 */
export const LANGUAGES = {
  en: { name: 'English', tag: 'en-GB', direction: 'ltr', reviewed: true, offered: true },
  de: { name: 'Deutsch', tag: 'de-DE', direction: 'ltr', reviewed: false, offered: true },
  'ar-XB': { name: 'Right to left', tag: 'en-XB', direction: 'rtl', reviewed: true, offered: false },
} as const satisfies Readonly<Record<string, LanguageInfo>>;

export type Language = keyof typeof LANGUAGES;

/** The language everything is written in first. */
export const SOURCE_LANGUAGE = 'en' satisfies Language;

/** Languages for readers to choose from. */
export const OFFERED = (Object.keys(LANGUAGES) as Language[]).filter((one) => LANGUAGES[one].offered);

export const isLanguage = (text: string): text is Language => Object.hasOwn(LANGUAGES, text);

/**
 * The first offered language that a reader's browser asks for, by the weights it gives; undefined when none fits.
 * @param header an `Accept-Language` header, RFC 9110 section 12.5.4
 */
export function preferredLanguage(header: string): Language | undefined {
  const wishes = header
    .slice(0, 500)
    .split(',')
    .map((part, place) => {
      const [range = '', ...rest] = part.trim().toLowerCase().split(';');
      const weight = rest.map((one) => /^\s*q=([01](?:\.\d{0,3})?)\s*$/.exec(one)?.[1]).find(Boolean);
      return { range: range.trim(), weight: weight === undefined ? 1 : Number(weight), place };
    })
    .filter((wish) => wish.weight > 0 && wish.range !== '')
    .sort((a, b) => b.weight - a.weight || a.place - b.place);
  for (const { range } of wishes) {
    const found = OFFERED.find((one) => range === one || range.startsWith(`${one}-`));
    if (found !== undefined) return found;
  }
  return undefined;
}

import { say } from '../../language/say.js';

/**
 * Words that guessers begin with. Together with what people hang on to them (figures, signs, repeats) they stand for
 * most of the long passwords among those found most often; the list is our own and short on purpose.
 */
const WORDS = [
  'password',
  'passwort',
  'passphrase',
  'passcode',
  'secret',
  'geheim',
  'welcome',
  'willkommen',
  'letmein',
  'login',
  'admin',
  'administrator',
  'root',
  'superuser',
  'user',
  'guest',
  'test',
  'testing',
  'default',
  'changeme',
  'master',
  'qwerty',
  'qwertz',
  'azerty',
  'qwertyuiop',
  'qwertzuiop',
  'asdfghjkl',
  'zxcvbnm',
  'yxcvbnm',
  'iloveyou',
  'sunshine',
  'princess',
  'football',
  'baseball',
  'monkey',
  'dragon',
  'shadow',
  'michael',
  'superman',
  'batman',
  'computer',
  'internet',
  'server',
  'hello',
  'hallo',
  'freedom',
  'whatever',
  'trustno',
  'starwars',
  'summer',
  'winter',
  'spring',
  'autumn',
  'sommer',
  'january',
  'february',
  'august',
  'september',
  'october',
  'november',
  'december',
  'monday',
  'peelpoint',
  'peel',
  'point',
  'rotor',
  'rotorspinning',
  'spinning',
  'spinningmill',
  'openend',
  'nozzle',
  'navel',
  'frame',
  'cotton',
  'viscose',
  'polyester',
  'yarn',
  'mill',
  'textile',
  'supervisor',
  'quality',
  'trainer',
  'technologist',
  'viewer',
  'operator',
  'shift',
  'company',
  'factory',
  'production',
  'maintenance',
] as const;

/** Signs that are typed for letters. */
const LETTERS: Readonly<Record<string, string>> = {
  0: 'o',
  1: 'i',
  3: 'e',
  4: 'a',
  5: 's',
  7: 't',
  '@': 'a',
  $: 's',
  '!': 'i',
};

/** Rows of keys and the order of letters and figures, to be read both ways. */
const ROWS = [
  '0123456789',
  'abcdefghijklmnopqrstuvwxyz',
  'qwertyuiop',
  'qwertzuiop',
  'asdfghjkl',
  'zxcvbnm',
  'yxcvbnm',
];

/**
 * Why a password is among the first that would be tried; undefined when it is not.
 * @param own words that belong to the person, such as the name
 */
export function whyTooCommon(password: string, own: readonly string[] = []): string | undefined {
  const text = password.toLowerCase().replace(/\s+/g, '');
  if (new Set(text).size < 4) return say('access.password-few-signs');
  if (isRepeated(text)) return say('access.password-repeats');
  if (isRow(text)) return say('access.password-row');
  const words = [...WORDS, ...own.flatMap((one) => [one, ...one.split(/[\s._@-]+/)])]
    .map((word) => letters(word.toLowerCase()))
    .filter((word) => word.length >= 3);
  for (const reading of [text, [...text].map((sign) => LETTERS[sign] ?? sign).join('')])
    if (isMadeOf(letters(reading), words) && letters(reading) !== '') return say('access.password-words');
  return undefined;
}

const letters = (text: string) => text.replace(/[^\p{L}]/gu, '');

/** A piece of at most four characters over and over. */
const isRepeated = (text: string) => /^(.{1,4})\1+.{0,3}$/u.test(text);

function isRow(text: string): boolean {
  return ROWS.some((row) => {
    const round = row.repeat(3);
    const back = [...round].reverse().join('');
    return round.includes(text) || back.includes(text);
  });
}

/** Whether a text is nothing but words of the list, one after the other, or all but three letters of it. */
function isMadeOf(text: string, words: readonly string[]): boolean {
  if (text.length > 200) return false;
  // Fewest letters left over up to each place.
  const left: number[] = [0];
  for (let end = 1; end <= text.length; end++) {
    let best = (left[end - 1] ?? 0) + 1;
    for (const word of words)
      if (text.endsWith(word, end)) best = Math.min(best, left[end - word.length] ?? best);
    left.push(best);
  }
  return (left[text.length] ?? 0) <= 3;
}

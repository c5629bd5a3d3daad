import { errorSchema } from '../../src/server/api/errors.js';
import type { Sent } from './requests.js';

/** Words of the inside that no answer may show. */
const INSIDE =
  /node_modules|\bat (?:async )?[\w.<>]+ \(\S+:\d+|\/src\/|\.ts:\d+|SQLITE_|ECONN|select .+ from "|at Object\.|ZodError|TypeError|RangeError|SyntaxError/;

const must = (holds: boolean, words: string): void => {
  if (!holds) throw new Error(words);
};

/**
 * Holds an answer against what every answer must be.
 * @throws with what is wrong
 */
export async function checkAnswer(sent: Sent, response: Response): Promise<void> {
  const { status, headers } = response;
  const type = headers.get('Content-Type') ?? '';
  const bytes = new Uint8Array(await response.arrayBuffer());
  const encoded = headers.get('Content-Encoding') !== null;
  const text = encoded || !/^text\/|json|xml|yaml/.test(type) ? '' : Buffer.from(bytes).toString();
  must(status < 500, `${status}: ${text.slice(0, 300)}`);
  must(headers.get('X-Content-Type-Options') === 'nosniff', 'may be taken for another type');
  must(headers.get('Content-Security-Policy') !== null, 'has no content-security policy');
  must(headers.get('Cache-Control') !== null, 'says nothing of caches');
  must(bytes.length === 0 || type !== '', 'has a body without a type');
  must(headers.get('X-Injected') === null, 'a header was put in');
  must(
    !(headers.get('Set-Cookie') ?? '').split(',').some((cookie) => /^\s*a=b/.test(cookie)),
    'a cookie was put in',
  );
  const location = headers.get('Location');
  if (location !== null) must(/^\/(?![/\\])/.test(location), `leads away: ${location}`);
  if (text === '') return;
  must(
    !INSIDE.test(withoutTyped(text, sent)),
    `shows its inside: ${INSIDE.exec(text)?.[0]} in ${text.slice(0, 200)}`,
  );
  if (/html|svg|xml/.test(type)) must(!/<zq9/.test(text), 'shows what was typed as markup');
  if (/^text\/|json/.test(type) && !/json/.test(type))
    must(/charset=utf-8/i.test(type), `has no charset: ${type}`);
  if (status < 400) return;
  if (/json/.test(type)) {
    const read = errorSchema.safeParse(JSON.parse(text));
    must(read.success, `is no refusal of the API: ${text.slice(0, 200)}`);
    const { code, message, fields } = read.data?.error ?? { code: '', message: '', fields: [] };
    must(message.length > 5, 'refuses without a word');
    if (code === 'input')
      must(
        fields.length > 0 && fields.every((one) => one.field !== '' && one.allowed !== ''),
        'does not name the field',
      );
  } else if (/html/.test(type)) {
    must(text.includes('<main'), 'is no page');
    const words = text
      .slice(text.indexOf('<main'))
      .replace(/<[^>]+>/g, ' ')
      .replace(/\s+/g, ' ');
    must(words.trim().length > 20, 'refuses without a word');
  }
}

/** The text without what was typed, which may name anything. */
function withoutTyped(text: string, sent: Sent): string {
  return /etc\/passwd|select|Error/.test(decodeURIComponentSafely(sent.url)) ? '' : text;
}

function decodeURIComponentSafely(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

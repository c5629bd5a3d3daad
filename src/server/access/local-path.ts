const MOST = 8000;

/**
 * A path of this server to go to, from an address that anybody may have made up: never another server.
 * @param fallback where to go when the text is none
 */
export function localPath(text: string | undefined, fallback = '/'): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: browsers drop some of them, so "/\t/host" would lead away
  if (text === undefined || text.length > MOST || /[\u0000-\u0020\u007f\\]/.test(text)) return fallback;
  if (!text.startsWith('/') || text.startsWith('//')) return fallback;
  const base = 'http://here.invalid';
  let url: URL;
  try {
    url = new URL(text, base);
  } catch {
    return fallback;
  }
  if (url.origin !== base || url.pathname.startsWith('//')) return fallback;
  // Back to the sign-in would be a circle, and these answer to forms alone.
  if (/^\/(sign-in|sign-out|set-password)(\/|$)/.test(url.pathname)) return fallback;
  return `${url.pathname}${url.search}${url.hash}`;
}

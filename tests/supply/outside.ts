import { readdirSync, readFileSync } from 'node:fs';
import { extname, join, relative, sep } from 'node:path';

const READ = ['.ts', '.js', '.eta', '.css', '.svg', '.yaml', '.yml', '.html'];
/** Names that lead nowhere (RFC 2606), this machine, and names of vocabularies, which nobody opens. */
const HARMLESS =
  /^(?:(?:[\w-]+\.)*(?:example|test|invalid|localhost)|localhost|127\.0\.0\.1|\[::1\]|www\.w3\.org|json-schema\.org)$/;
/** Ways out of the program; a listening server needs its types alone. */
const WAYS_OUT: readonly (readonly [RegExp, string])[] = [
  [
    /^\s*import\s+(?!type\b)[^;]*?from\s+'node:(?:https?|http2|net|tls|dgram|dns)(?:\/promises)?'/m,
    'a module that opens connections',
  ],
  [/(?<![.\w])fetch\s*\(/, 'fetch'],
  [
    /\b(?:XMLHttpRequest|WebSocket|EventSource|sendBeacon|RTCPeerConnection)\b/,
    'a connection of the browser',
  ],
  [
    /from\s+'(?:undici|axios|got|node-fetch|ws|nodemailer|openid-client)'/,
    'a package that opens connections',
  ],
  [/(?:@import|url\()\s*['"]?https?:/i, 'a style from elsewhere'],
];

/** A way out that is meant, with why. */
export interface MeantWay {
  readonly file: RegExp;
  readonly way: string;
  readonly why: string;
}

/** Addresses and ways to other machines in the files of a folder, one sentence each. */
export function findOutside(
  root: string,
  meant: readonly MeantWay[] = [],
): { readonly files: number; readonly found: string[] } {
  const found: string[] = [];
  const files = readdirSync(root, { recursive: true, withFileTypes: true }).filter(
    (entry) => entry.isFile() && READ.includes(extname(entry.name)),
  );
  for (const entry of files) {
    const path = join(entry.parentPath, entry.name);
    const place = relative(root, path).split(sep).join('/');
    const text = readFileSync(path, 'utf8');
    for (const [, host = ''] of text.matchAll(/\b(?:https?|wss?|ftp):\/\/(\[[^\]]+\]|[\w.-]+)/g))
      if (
        host.includes('.') &&
        !HARMLESS.test(host) &&
        !meant.some((one) => one.file.test(place) && one.way === 'a name')
      )
        found.push(`${place} names ${host}`);
    for (const [pattern, way] of WAYS_OUT)
      if (pattern.test(text) && !meant.some((one) => one.file.test(place) && one.way === way))
        found.push(`${place} has ${way}`);
  }
  return { files: files.length, found };
}

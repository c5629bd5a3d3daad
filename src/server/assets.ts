import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { brotliCompressSync, constants, gzipSync } from 'node:zlib';
import { Hono } from 'hono';
import { TEMPLATES } from './render.js';

interface Asset {
  readonly type: string;
  readonly plain: Buffer;
  readonly gzip: Buffer;
  readonly brotli: Buffer;
}

/** The files pages refer to, under names that change with their content, so that browsers may keep them for good. */
export interface Assets {
  readonly urls: {
    readonly css: string;
    readonly journal: string;
    readonly js: string;
    readonly htmx: string;
    readonly mark: string;
  };
  readonly routes: Hono;
}

const A_YEAR = 'public, max-age=31536000, immutable';

let loaded: Assets | undefined;

/** The assets, read and compressed once: every edition of the app has the same. */
export function loadAssets(): Assets {
  loaded ??= readAssets();
  return loaded;
}

function readAssets(): Assets {
  const files = new Map<string, Asset>();
  const add = (path: string, name: string, ending: string, type: string): string => {
    const plain = readFileSync(path);
    const hash = createHash('sha256').update(plain).digest('hex').slice(0, 10);
    const file = `${name}.${hash}.${ending}`;
    files.set(file, {
      type,
      plain,
      gzip: gzipSync(plain, { level: 9 }),
      brotli: brotliCompressSync(plain, { params: { [constants.BROTLI_PARAM_QUALITY]: 11 } }),
    });
    return `/assets/${file}`;
  };
  const own = (name: string) => join(TEMPLATES, 'assets', name);
  const htmx = createRequire(import.meta.url).resolve('htmx.org/dist/htmx.min.js');
  const urls = {
    css: add(own('app.css'), 'app', 'css', 'text/css; charset=utf-8'),
    journal: add(own('journal.css'), 'journal', 'css', 'text/css; charset=utf-8'),
    js: add(own('app.js'), 'app', 'js', 'text/javascript; charset=utf-8'),
    htmx: add(htmx, 'htmx', 'js', 'text/javascript; charset=utf-8'),
    mark: add(own('mark.svg'), 'mark', 'svg', 'image/svg+xml'),
  };
  const routes = new Hono();
  routes.get('/assets/:file', (c) => {
    const asset = files.get(c.req.param('file'));
    if (asset === undefined) return c.notFound();
    const accepted = c.req.header('accept-encoding') ?? '';
    const encoding = /\bbr\b/.test(accepted) ? 'br' : /\bgzip\b/.test(accepted) ? 'gzip' : '';
    const body = encoding === 'br' ? asset.brotli : encoding === 'gzip' ? asset.gzip : asset.plain;
    return c.body(new Uint8Array(body), 200, {
      'Content-Type': asset.type,
      'Cache-Control': A_YEAR,
      Vary: 'Accept-Encoding',
      ...(encoding === '' ? {} : { 'Content-Encoding': encoding }),
    });
  });
  return { urls, routes };
}

/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import chromium from '@sparticuz/chromium';
import { type Browser, type Page, chromium as playwright } from 'playwright-core';
import { type RunningServer, type ServeOptions, serve } from '../../src/server/serve.js';

/** Where pictures of the pages go, for looking at. */
const SCREENS = fileURLToPath(new URL('../../.scratch/screens', import.meta.url));

export const PHONE = { width: 360, height: 740 } as const;
export const DESK = { width: 1280, height: 800 } as const;

export interface PageOptions {
  readonly size?: { readonly width: number; readonly height: number };
  readonly scripting?: boolean;
  readonly dark?: boolean;
  /** Language chosen before the page is opened. */
  readonly language?: string;
}

export interface Bench {
  readonly server: RunningServer;
  /** A fresh page on the server; what its console complains of is collected. */
  open(path: string, options?: PageOptions): Promise<Page>;
  /** Complaints of all pages since the last call: violations of the content-security policy, script faults. */
  complaints(): string[];
  close(): Promise<void>;
}

/**
 * Starts the server and a browser. The browser comes with the packages and is unpacked into a folder of its own, so
 * that test files running side by side never see a half-unpacked one; the folder goes when the browser goes.
 */
export async function openBench(
  journal?: ServeOptions['journal'],
  print: (line: string) => void = () => {},
  more: Pick<ServeOptions, 'knowledgeRoot' | 'log'> = {},
): Promise<Bench> {
  const folder = mkdtempSync(join(tmpdir(), 'peelpoint-browser-'));
  const browser = await launch(folder);
  const server = await serve({
    port: 0,
    print,
    log: (line) => complaints.push(line),
    ...(journal === undefined ? {} : { journal }),
    ...more,
  });
  let complaints: string[] = [];
  return {
    server,
    async open(path, options = {}) {
      const context = await browser.newContext({
        viewport: options.size ?? DESK,
        javaScriptEnabled: options.scripting ?? true,
        colorScheme: options.dark ? 'dark' : 'light',
        reducedMotion: 'reduce',
        acceptDownloads: true,
      });
      if (options.language !== undefined)
        await context.addCookies([{ name: 'language', value: options.language, url: server.address }]);
      const page = await context.newPage();
      page.setDefaultTimeout(15_000);
      page.on('console', (message) => {
        if (['error', 'warning'].includes(message.type()))
          complaints.push(`${page.url()}: ${message.text()}`);
      });
      page.on('pageerror', (error) => complaints.push(`${page.url()}: ${error.message}`));
      await page.goto(`${server.address}${path}`);
      return page;
    },
    complaints() {
      const said = complaints;
      complaints = [];
      return said;
    },
    async close() {
      await browser.close();
      await server.stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Taller pages than this cannot be pictured whole. */
const TALLEST = 12_000;

/** Writes a picture of the page, or of what shows of it. */
export async function picture(page: Page, name: string, whole = false): Promise<void> {
  mkdirSync(SCREENS, { recursive: true });
  const fullPage = whole && (await page.evaluate(() => document.documentElement.scrollHeight)) < TALLEST;
  // A picture is for looking at: a very long page that the browser cannot capture must not fail a journey.
  await page.screenshot({ path: join(SCREENS, `${name}.png`), fullPage }).catch(() => undefined);
}

async function launch(folder: string): Promise<Browser> {
  const executablePath = await unpack(folder);
  // As root there is no sandbox; the pages are our own.
  const args = ['--no-sandbox', '--disable-dev-shm-usage', '--font-render-hinting=none'];
  try {
    return await playwright.launch({ executablePath, args });
  } catch {
    // A bare machine lacks the libraries; a set of them comes with the package.
    const libraries = join(folder, 'al2023', 'lib');
    return playwright.launch({
      executablePath,
      args,
      env: { ...process.env, LD_LIBRARY_PATH: libraries, FONTCONFIG_PATH: join(folder, 'fonts') },
    });
  }
}

/** Unpacks browser, libraries and fonts into the folder; the package does so into the temporary folder of the moment. */
async function unpack(folder: string): Promise<string> {
  const before = { TMPDIR: process.env.TMPDIR, AWS_LAMBDA_JS_RUNTIME: process.env.AWS_LAMBDA_JS_RUNTIME };
  Object.assign(process.env, { TMPDIR: folder, AWS_LAMBDA_JS_RUNTIME: 'nodejs20.x' });
  try {
    return await chromium.executablePath();
  } finally {
    for (const [name, value] of Object.entries(before)) {
      if (value === undefined) delete process.env[name];
      else process.env[name] = value;
    }
  }
}

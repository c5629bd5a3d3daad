/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { BrowserContext, Page } from 'playwright-core';
import { type RunningServer, type ServeOptions, serve } from '../../src/server/serve.js';
import { sharedBrowser } from './chromium.js';

/** Where pictures of the pages go, for looking at; they are made when PICTURES is set, for they take long. */
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

/** Starts the server; pages are opened in the browser that the test files of a worker share. */
export async function openBench(
  journal?: ServeOptions['journal'],
  print: (line: string) => void = () => {},
  more: Pick<ServeOptions, 'knowledgeRoot' | 'log'> = {},
): Promise<Bench> {
  const browser = await sharedBrowser();
  const contexts: BrowserContext[] = [];
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
      contexts.push(context);
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
      for (const context of contexts) await context.close();
      await server.stop();
    },
  };
}

/** Taller pages than this cannot be pictured whole. */
const TALLEST = 12_000;

/** Writes a picture of the page, or of what shows of it, when pictures are wanted (`PICTURES=1`). */
export async function picture(page: Page, name: string, whole = false): Promise<void> {
  if (!process.env.PICTURES) return;
  mkdirSync(SCREENS, { recursive: true });
  const fullPage = whole && (await page.evaluate(() => document.documentElement.scrollHeight)) < TALLEST;
  // A picture is for looking at: a very long page that the browser cannot capture must not fail a journey.
  await page.screenshot({ path: join(SCREENS, `${name}.png`), fullPage }).catch(() => undefined);
}

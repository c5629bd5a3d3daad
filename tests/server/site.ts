import type { Hono } from 'hono';
import { createDiagnostician } from '../../src/rules/diagnosis/diagnose.js';
import type { Diagnostician } from '../../src/rules/diagnostician.js';
import { defaultKnowledgeFolder } from '../../src/rules/knowledge/load-knowledge.js';
import type { Mill } from '../../src/rules/knowledge/load-mill.js';
import type { Vignette } from '../../src/rules/knowledge/load-vignettes.js';
import { createApp } from '../../src/server/app.js';
import { loadBase } from '../../src/server/loaded-base.js';
import { rememberAnswers } from '../../src/server/remember.js';

export interface TestSite {
  readonly app: Hono;
  readonly diagnostician: Diagnostician;
  readonly mill: Mill;
  readonly vignettes: ReadonlyMap<string, Vignette>;
  /** What the app reported. */
  readonly log: string[];
}

let made: TestSite | undefined;

/** The app on the product's own knowledge base, made once a test file. */
export function testSite(): TestSite {
  if (made !== undefined) return made;
  const { knowledge, mill, vignettes } = loadBase(defaultKnowledgeFolder());
  const diagnostician = rememberAnswers(createDiagnostician(knowledge));
  const log: string[] = [];
  const app = createApp({ diagnostician, mill, vignettes, log: (line) => log.push(line) });
  made = { app, diagnostician, mill, vignettes, log };
  return made;
}

const ORIGIN = 'http://plant.test';

/** Sends a form as a page of the server would. */
export function post(
  app: Hono,
  path: string,
  fields: Iterable<readonly [string, string]>,
): Promise<Response> {
  return Promise.resolve(
    app.request(`${ORIGIN}${path}`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/x-www-form-urlencoded', Origin: ORIGIN },
      body: new URLSearchParams(
        [...fields].map(([name, value]): [string, string] => [name, value]),
      ).toString(),
    }),
  );
}

/** A page's text; fails the test when the answer is not the status expected. */
export async function page(
  app: Hono,
  path: string,
  status = 200,
  headers: Record<string, string> = {},
): Promise<string> {
  const response = await app.request(`${ORIGIN}${path}`, { headers });
  if (response.status !== status) throw new Error(`${path}: ${response.status} ${await response.text()}`);
  return response.text();
}

/** The text of a page without its tags. */
export function textOf(html: string): string {
  return html
    .replace(/<[^>]+>/g, ' ')
    .replace(/&amp;/g, '&')
    .replace(/&quot;/g, '"')
    .replace(/&#39;/g, "'")
    .replace(/&lt;/g, '<')
    .replace(/&gt;/g, '>')
    .replace(/\s+/g, ' ');
}

/** Names and values that a page's form would send without scripting: hidden, chosen, typed. */
export function formFields(html: string): [string, string][] {
  const fields: [string, string][] = [];
  for (const [tag] of html.matchAll(/<input\b[^>]*>/g)) {
    const type = /type="([^"]*)"/.exec(tag)?.[1] ?? 'text';
    const name = /\bname="([^"]*)"/.exec(tag)?.[1];
    if (name === undefined || type === 'file') continue;
    if ((type === 'radio' || type === 'checkbox') && !/\bchecked\b/.test(tag)) continue;
    fields.push([name, plain(/\bvalue="([^"]*)"/.exec(tag)?.[1] ?? '')]);
  }
  for (const [, name = '', inner = ''] of html.matchAll(
    /<select\b[^>]*\bname="([^"]*)"[^>]*>(.*?)<\/select>/gs,
  )) {
    const option =
      /<option value="([^"]*)" selected/.exec(inner)?.[1] ?? /<option value="([^"]*)"/.exec(inner)?.[1] ?? '';
    fields.push([name, plain(option)]);
  }
  return fields;
}

const plain = (text: string) =>
  text
    .replace(/&quot;/g, '"')
    .replace(/&#39;/g, "'")
    .replace(/&amp;/g, '&');

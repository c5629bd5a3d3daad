import { defaultKnowledgeFolder } from '../../../src/rules/knowledge/load-knowledge.js';
import { loadBase } from '../../../src/server/loaded-base.js';
import type { Client } from './client.js';
import type { World } from './supervisors.js';

/** Finds out from the pages themselves what can be asked for. */
export async function exploreWorld(client: Client): Promise<World> {
  const read = async (path: string) => (await client.get(path, {}, true)).text;
  const all = (html: string, pattern: RegExp): string[] => [
    ...new Set([...html.matchAll(pattern)].map((match) => match[1] ?? '')),
  ];
  const frames = all(await read('/'), /href="\/bench\?frame=([\w-]+)"/g);
  const bench = await read(`/bench?frame=${frames[0]}`);
  const causes = all(await read('/knowledge/causes'), /href="\/knowledge\/causes\/([\w-]+)"/g);
  const world = {
    frames,
    symptoms: all(bench, /name="observations\.([\w-]+)"/g),
    causes,
    cases: all(await read('/cases'), /href="\/cases\/(case-\d+)"/g),
    knowledge: causes.map((cause) => `/knowledge/causes/${cause}`),
    situations: [...loadBase(defaultKnowledgeFolder()).vignettes.values()].map((one) =>
      Object.entries(one.case.observations).map(([symptom, level]) => [symptom, level] as const),
    ),
  };
  for (const [name, list] of Object.entries(world))
    if (list.length < 2) throw new Error(`the pages show no ${name}`);
  await checkAddresses(read, frames[0] ?? '');
  return world;
}

/** Throws unless what supervisors write into addresses is taken up: a name that the pages do not know would spare them work. */
async function checkAddresses(read: (path: string) => Promise<string>, frame: string): Promise<void> {
  for (const [path, field] of [
    [`/what-if?frame=${frame}&to.rotor.speed=61500`, 'name="to.rotor.speed"'],
    [`/setup?frame=${frame}&setup.rotor.speed=61500`, 'name="setup.rotor.speed"'],
    [`/bench?frame=${frame}&setup.room.humidity=61500`, 'name="setup.room.humidity"'],
  ] as const) {
    const html = await read(path);
    const at = html.indexOf(field);
    if (at < 0 || !html.slice(at, at + 200).includes('value="61500"'))
      throw new Error(`${path}: the page does not take the value up`);
  }
}

/** The fields of a page's form, as a browser would send them, with some filled in. */
export function fillForm(html: string, values: Readonly<Record<string, string>>): string {
  const main = html.slice(html.indexOf('<form class="record"'));
  const form = main.slice(0, main.indexOf('</form>'));
  const params = new URLSearchParams();
  for (const [, tag = ''] of form.matchAll(/<input([^>]*)>/g)) {
    const name = /\bname="([^"]*)"/.exec(tag)?.[1];
    if (name === undefined || values[name] !== undefined) continue;
    if (/type="(?:radio|checkbox)"/.test(tag) && !/\bchecked\b/.test(tag)) continue;
    params.append(name, (/\bvalue="([^"]*)"/.exec(tag)?.[1] ?? '').replace(/&amp;/g, '&'));
  }
  for (const [name, value] of Object.entries(values)) params.append(name, value);
  return params.toString();
}

import { describe, expect, it } from 'vitest';
import { defaultKnowledgeFolder } from '../../src/rules/knowledge/load-knowledge.js';
import { STRENGTHS } from '../../src/rules/knowledge/vocabulary.js';
import { lintKnowledge } from '../../src/rules/workshop/lint-knowledge.js';
import { createApp } from '../../src/server/app.js';
import { KIND_IDS, type Kind } from '../../src/server/views/knowledge/kinds.js';
import { openWorkshop } from '../../src/server/workshop.js';
import { page, testSite, textOf } from './site.js';

const { app, diagnostician, mill, vignettes } = testSite();
const { book } = diagnostician.knowledge;
const read = [...book.sources].filter(([, source]) => source.seen === 'read');
const idsOf: Record<Kind, readonly string[]> = {
  causes: [...book.causes.keys()],
  symptoms: [...book.symptoms.keys()],
  mechanisms: [...book.mechanisms.keys()],
  checks: [...book.checks.keys()],
  actions: [...book.actions.keys()],
  cases: [...vignettes.keys()],
  sources: read.map(([id]) => id),
};
const plain = (text: string) => text.replace(/\s+/g, ' ').trim();
const section = (html: string, id: string) =>
  textOf(new RegExp(`<section aria-labelledby="${id}">.*?</section>`, 's').exec(html)?.[0] ?? '');

describe('the contents of the knowledge', () => {
  it('count every kind, and list each of its entries', async () => {
    const contents = textOf(await page(app, '/knowledge'));
    for (const kind of KIND_IDS) {
      expect(contents).toContain(String(idsOf[kind].length));
      const list = await page(app, `/knowledge/${kind}`);
      const linked = [...list.matchAll(/href="\/knowledge\/([a-z]+)\/([a-z0-9-]+)"/g)]
        .filter(([, of]) => of === kind)
        .map(([, , id]) => id ?? '');
      expect([...linked].sort()).toEqual([...idsOf[kind]].sort());
    }
  });

  it('have a page for every entry, and no link on them that leads nowhere', async () => {
    const known = new Set(KIND_IDS.flatMap((kind) => idsOf[kind].map((id) => `/knowledge/${kind}/${id}`)));
    for (const entry of known) {
      const html = await page(app, entry);
      expect(html).toContain('<h1>');
      for (const [, link = ''] of html.matchAll(/href="(\/knowledge\/[a-z]+\/[a-z0-9-]+)"/g))
        expect(known.has(link), `${entry} links to ${link}`).toBe(true);
      for (const [, anchor = ''] of html.matchAll(/href="#([^"]+)"/g))
        expect(html, `${entry} jumps to #${anchor}`).toContain(`id="${anchor}"`);
      const ids = [...html.matchAll(/\sid="([^"]+)"/g)].map(([, id]) => id);
      expect(new Set(ids).size, `${entry} uses an id twice`).toBe(ids.length);
    }
  });

  it('understand the singular in an address', async () => {
    const response = await app.request('/knowledge/cause/twist-too-low');
    expect(response.status).toBe(301);
    expect(response.headers.get('Location')).toBe('/knowledge/causes/twist-too-low');
  });
});

describe('the search', () => {
  const find = async (question: string) => {
    const html = await page(app, `/knowledge?q=${encodeURIComponent(question)}`);
    const found = /<div id="found">.*?<ul class="cards">/s.exec(html)?.[0] ?? '';
    return {
      html,
      found,
      hrefs: [...found.matchAll(/<li><a href="([^"]+)"/g)].map(([, href]) => href ?? ''),
    };
  };

  it('finds an entry of each kind by words of its name', async () => {
    for (const [kind, label, id] of [
      ['causes', book.causes.get('twist-too-low')?.label, 'twist-too-low'],
      ['symptoms', book.symptoms.get('end-breaks')?.label, 'end-breaks'],
      ['mechanisms', book.mechanisms.get('false-twist')?.label, 'false-twist'],
      ['checks', book.checks.get('groove-look')?.label, 'groove-look'],
      ['actions', book.actions.get('keep-counting')?.label, 'keep-counting'],
      ['cases', vignettes.get('half-a-trial')?.title, 'half-a-trial'],
      ['sources', read[0]?.[1].cite, read[0]?.[0]],
    ] as const) {
      const { hrefs } = await find(label ?? 'none');
      expect(hrefs).toContain(`/knowledge/${kind}/${id}`);
    }
  });

  it('wants all words, in any order, plural or not, and shows where they stand', async () => {
    const one = await find('nozzle worn');
    const other = await find('WORN   nozzles');
    expect(one.hrefs).toContain('/knowledge/causes/nozzle-worn');
    expect(other.hrefs).toEqual(one.hrefs);
    expect(one.found).toMatch(/<mark>[Nn]ozzle<\/mark>/);
    const narrow = await find('nozzle worn polyester');
    expect(narrow.hrefs.length).toBeLessThan(one.hrefs.length);
  });

  it('puts names before mere mentions', async () => {
    const { html } = await find('wax');
    const causes = /<section aria-labelledby="found-causes">.*?<\/section>/s.exec(html)?.[0] ?? '';
    const first = /<li><a href="[^"]+">(.*?)<\/a>/s.exec(causes)?.[1] ?? '';
    expect(textOf(first).toLowerCase()).toContain('wax');
  });

  it('can be narrowed to a kind', async () => {
    const html = await page(app, '/knowledge?q=nozzle&kind=checks');
    const found = /<div id="found">.*?<ul class="cards">/s.exec(html)?.[0] ?? '';
    const kinds = new Set(
      [...found.matchAll(/<li><a href="\/knowledge\/([a-z]+)\//g)].map(([, kind]) => kind),
    );
    expect([...kinds]).toEqual(['checks']);
    expect(found).toMatch(/aria-current="true">\d+ checks</);
  });

  it('says so when there is nothing, and asks what was meant', async () => {
    const { html, hrefs } = await find('nozle wurn');
    expect(hrefs).toEqual([]);
    expect(textOf(html)).toContain('Nothing holds all of “nozle wurn”');
    expect(html).toContain('href="/knowledge?q=nozzle%20worn"');
    expect(textOf((await find('xqzvw')).html)).toContain('Nothing holds all of');
  });

  it('takes any text for a text', async () => {
    const { html } = await find('<b>"(.*+?[\\</b>');
    expect(html).toContain('&lt;b&gt;');
    expect(html).not.toContain('<b>"');
    expect((await find(' - . ')).hrefs).toEqual([]);
  });
});

describe('the page of a cause', () => {
  it('tells each link with strength in words and number, in picture and list alike', async () => {
    const cause = book.causes.get('nozzle-too-smooth');
    const html = await page(app, '/knowledge/causes/nozzle-too-smooth');
    const list = section(html, 'to');
    const picture = textOf(/<svg class="picture chains".*?<\/svg>/s.exec(html)?.[0] ?? '');
    expect(cause?.['leads-to'].length).toBeGreaterThan(0);
    for (const link of cause?.['leads-to'] ?? []) {
      const strength = `${link.strength.replace('-', ' ')}, ${STRENGTHS[link.strength] * 100}`;
      expect(list.toLowerCase()).toContain(strength);
      expect(picture.toLowerCase()).toContain(strength);
      expect(list).toContain(plain(link.why));
    }
  });

  it('says what every statement rests on, and names read sources only', async () => {
    for (const cause of book.causes.values()) {
      const html = await page(app, `/knowledge/causes/${cause.id}`);
      const statements =
        1 + cause['leads-to'].length + (cause.rules ?? []).length + (cause['ruled-out'] ?? []).length;
      expect(textOf(html)).toMatch(
        new RegExp(`${statements === 1 ? 'One statement' : `${statements} statements`}: `),
      );
      for (const source of book.sources.values())
        if (source.seen === 'memory') expect(html).not.toContain(source.cite);
    }
  });

  it('puts its rules and where it shows into words', async () => {
    const cause = [...book.causes.values()].find((one) =>
      one.rules?.some((rule) => 'fact' in rule.when && rule.when.fact === 'setup.room.humidity'),
    );
    const html = await page(app, `/knowledge/causes/${cause?.id}`);
    expect(section(html, 'rules')).toMatch(/If .*humidity .*is (below|at most|at least|above) \d+ %/);
    expect(section(html, 'rules')).toMatch(/Speaks \w+ (for|against) it \(odds [×÷] \d+\)/);
    const shares = section(html, 'place');
    for (const share of Object.values(cause?.scope ?? {}))
      expect(shares).toContain(`${Math.round(share * 100)} %`);
  });

  it('leaves no fact of any condition in the language of the files', async () => {
    for (const cause of book.causes.values()) {
      const text = section(await page(app, `/knowledge/causes/${cause.id}`), 'rules');
      expect(text, cause.id).not.toMatch(
        /\b(setup|fibre|deviation|before|computed|chance|observed|found)\.[a-z]/,
      );
      expect(text, cause.id).not.toMatch(/\b(is|neither) (is|none|one) of\b|undefined|NaN/);
    }
  });

  it('runs its examples when asked, each with place and probability', async () => {
    const path = '/knowledge/causes/nozzle-too-smooth';
    const before = await page(app, path);
    expect(before).toContain(`href="${path}/run#examples"`);
    expect(textOf(before)).not.toContain('As expected');
    const after = textOf(await page(app, `${path}/run`));
    const examples = book.causes.get('nozzle-too-smooth')?.examples ?? [];
    expect(examples.length).toBeGreaterThan(1);
    for (const example of examples) expect(after).toContain(plain(example.name));
    expect(after.match(/This cause is number \d+ with /g)).toHaveLength(examples.length);
    expect(after).toContain(`version ${diagnostician.knowledge.version}`);
    expect(after).toContain(`All ${examples.length} come out as they must`);
  });

  it('says so when an example comes out otherwise', async () => {
    const turned = createApp({
      mill,
      diagnostician: {
        ...diagnostician,
        rank: async (input) => {
          const ranking = await diagnostician.rank(input);
          return { ...ranking, causes: [...ranking.causes].reverse() };
        },
      },
    });
    const text = textOf(await page(turned, '/knowledge/causes/nozzle-too-smooth/run'));
    expect(text).toMatch(/of 3 comes? out otherwise/);
    expect(text).toContain('Not as expected');
  });
});

describe('the pages of situations and sources', () => {
  it('tell a situation, and run it', async () => {
    const vignette = vignettes.get('half-a-trial');
    const before = textOf(await page(app, '/knowledge/cases/half-a-trial'));
    expect(before).toContain(plain(vignette?.story ?? 'none'));
    expect(before).toContain(plain(vignette?.teaches ?? 'none'));
    const after = textOf(await page(app, '/knowledge/cases/half-a-trial/run'));
    expect(after).toContain('It comes out as it must');
    for (const { cause } of vignette?.expect ?? [])
      expect(after).toContain(`“${book.causes.get(cause)?.label}” is number`);
  });

  it('open a situation on the bench as it is', async () => {
    const html = await page(app, '/knowledge/cases/half-a-trial');
    const href = /href="(\/bench\?[^"]+)"/.exec(html)?.[1]?.replace(/&amp;/g, '&') ?? '';
    const top = (await diagnostician.rank(vignettes.get('half-a-trial')?.case ?? ({} as never))).causes[0];
    expect(textOf(await page(app, href))).toContain(top?.label ?? 'none');
  });

  it('list for a source every statement that names it', async () => {
    const cited = read.find(([id]) =>
      [...book.causes.values()].some((cause) => cause['leads-to'].some((link) => link.basis.source === id)),
    );
    const [id = ''] = cited ?? [];
    const text = section(await page(app, `/knowledge/sources/${id}`), 'cited');
    for (const cause of book.causes.values())
      for (const link of cause['leads-to'])
        if (link.basis.source === id) {
          expect(text).toContain(cause.label);
          expect(text).toContain(plain(link.why));
        }
    for (const [memory, source] of book.sources)
      if (source.seen === 'memory') await page(app, `/knowledge/sources/${memory}`, 404);
  });

  it('cite only what was read', async () => {
    const text = textOf(await page(app, '/knowledge/sources'));
    for (const source of book.sources.values())
      expect(text.includes(plain(source.cite))).toBe(source.seen === 'read');
  });
});

describe('the check of the files', () => {
  it('shows every finding with place, severity, message and hint', async () => {
    const html = await page(app, '/knowledge/check');
    const text = textOf(html);
    const findings = lintKnowledge(defaultKnowledgeFolder());
    expect(findings.length).toBeGreaterThan(0);
    for (const one of findings) {
      expect(text).toContain(plain(one.message));
      expect(text).toContain(one.line === undefined ? one.file : `${one.file}:${one.line}`);
      expect(text).toContain(plain(one.accepted ?? one.hint));
    }
  });

  it('puts errors first and says that there are some', async () => {
    const workshop = openWorkshop(diagnostician.knowledge, defaultKnowledgeFolder());
    const faulty = createApp({
      diagnostician,
      mill,
      workshop: {
        ...workshop,
        lint: async () => [
          {
            severity: 'note',
            code: 'unused-source',
            file: 'sources/a.yaml',
            field: 'x',
            message: 'unused',
            hint: '',
          },
          {
            severity: 'error',
            code: 'cycle',
            file: 'causes/none.yaml',
            line: 7,
            field: 'leads-to',
            message: 'runs in a circle',
            hint: 'Take the weakest link out.',
          },
        ],
      },
    });
    const html = await page(faulty, '/knowledge/check');
    const text = textOf(html);
    expect(text).toContain('The files have 1 error and no open warnings.');
    expect(text.indexOf('causes/none.yaml:7')).toBeLessThan(text.indexOf('sources/a.yaml'));
    // The file is not one of an entry in use, so nothing is linked.
    expect(html).not.toContain('href="/knowledge/causes/none"');
  });
});

describe('what an answer hangs on', () => {
  const CASE =
    'frame=frame-1&before.nozzle.surface=spiral&observations.end-breaks=marked&scope=frame&onset=since-change&changed=nozzle-surface';

  it('is reached from the answer and from the cause', async () => {
    const query = CASE.replace(/&/g, '&amp;');
    expect(await page(app, `/bench?${CASE}`)).toContain(`href="/sensitivity?${query}"`);
    expect(await page(app, `/cause/nozzle-worn?${CASE}`)).toContain(
      `href="/sensitivity?${query}&amp;of=nozzle-worn"`,
    );
  });

  it('tells the leader, what moves it most, and the same numbers in picture and table', async () => {
    const html = await page(app, `/sensitivity?${CASE}`);
    const text = textOf(html);
    const leader =
      (await page(app, `/bench?${CASE}`)).match(/class="cause-name"[^>]*>([^<]+)</)?.[1] ?? 'none';
    expect(text).toContain(`“${leader}” leads`);
    expect(text).toContain('It hangs most on');
    const picture = textOf(/<svg class="picture tornado".*?<\/svg>/s.exec(html)?.[0] ?? '');
    const table = /<table>.*?<\/table>/s.exec(html)?.[0] ?? '';
    const then = [...table.matchAll(/<span class="number">([^<]+)<\/span>/g)].map(([, one]) =>
      (one ?? '').replace(/\u00a0/g, ' '),
    );
    expect(then.length).toBeGreaterThan(4);
    for (const one of then.filter((value) => !/under|over/.test(value))) expect(picture).toContain(one);
  });

  it('is about the cause that was asked for, wherever it stands', async () => {
    const text = textOf(await page(app, `/sensitivity?${CASE}&of=wax-fault`));
    const label = book.causes.get('wax-fault')?.label;
    expect(label).toBeDefined();
    expect(text).toContain(`“${label}”`);
  });

  it('asks for a sign when there is none', async () => {
    expect(textOf(await page(app, '/sensitivity?frame=frame-1'))).toContain('Tick at least one sign first');
  });
});

describe('the notice of the knowledge in use', () => {
  it('stands on every page: version and since when', async () => {
    for (const path of ['/', '/bench', '/knowledge', '/nowhere'])
      expect(textOf(await page(app, path, path === '/nowhere' ? 404 : 200))).toContain(
        `Knowledge version ${diagnostician.knowledge.version} , in use since `,
      );
  });

  it('says why newer files are not used', async () => {
    const broken = createApp({
      diagnostician,
      mill,
      knowledgeState: () => ({
        version: diagnostician.knowledge.version,
        since: new Date(),
        problems: [
          { file: 'causes/a.yaml', line: 12, field: 'prior.base', message: 'must be <1' },
          { file: 'causes/b.yaml', line: undefined, field: '', message: 'gone' },
        ],
      }),
    });
    for (const path of ['/', '/bench', '/knowledge/check']) {
      const html = await page(broken, path);
      expect(html).toContain('must be &lt;1');
      expect(textOf(html)).toContain('causes/a.yaml:12 prior.base: must be <1. One more problem.');
    }
  });
});

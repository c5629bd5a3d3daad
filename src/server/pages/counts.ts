import { type Context, Hono } from 'hono';
import { SOURCE_LANGUAGE } from '../../language/languages.js';
import { say } from '../../language/say.js';
import { inLanguage, language } from '../../language/scope.js';
import { type CountAnalysis, EXPORTS, exportTable } from '../../statistics/analysis/index.js';
import { inspectTable, SAMPLE_BYTES } from '../../statistics/tables/index.js';
import type { TableRefusal } from '../counts/judge-table.js';
import { isSample, SAMPLE_LABELS, SAMPLES } from '../counts/samples.js';
import { readTableQuery } from '../counts/table-query.js';
import { createTableStore, KEPT_MINUTES, type KeptTable, TABLE_BYTES } from '../counts/table-store.js';
import type { Site } from '../site.js';
import { viewCountsAnswer } from '../views/counts/answer.js';
import { viewColumns } from '../views/counts/columns.js';
import { viewTabs } from '../views/counts/shared.js';

/** Answers kept with a table, so that its CSV files need no second reading. */
const ANSWERS_KEPT = 4;

/** A table of breaks: sent, its columns confirmed, answered. Between the steps it is kept in memory for a short time. */
export function countsPages(site: Site): Hono {
  const store = createTableStore();
  const limit = `${TABLE_BYTES / 1024 / 1024} MB`;

  const start = (c: Context, problem: string, text: string) =>
    c.html(
      site.page(
        'counts',
        {
          title:
            problem === '' ? say('counts.title') : say('page.error-title', { title: say('counts.short') }),
          section: 'counts',
        },
        {
          tabs: viewTabs('/counts'),
          errors: { items: problem === '' ? [] : [{ href: '#f-text', text: problem, allowed: '' }] },
          text,
          limit,
          kept: say('counts.kept', { minutes: KEPT_MINUTES }),
          samples: Object.entries(SAMPLE_LABELS).map(([value, label]) => ({ value, label })),
        },
      ),
      problem === '' ? 200 : 422,
    );
  const gone = (c: Context) =>
    c.html(
      site.page(
        'error',
        { title: say('counts.gone'), section: 'counts' },
        {
          heading: say('counts.gone'),
          text: say('counts.gone-why', { minutes: KEPT_MINUTES }),
          reference: '',
        },
      ),
      404,
    );
  const paramsOf = (c: Context) => new URL(c.req.url).searchParams;
  const inspect = (table: KeptTable) => inspectTable(table.bytes.subarray(0, SAMPLE_BYTES + 1));

  const columns = (c: Context, table: KeptTable, checked: boolean, refused?: TableRefusal) => {
    const params = paramsOf(c);
    const inspection = inspect(table);
    const query = readTableQuery(params, inspection.proposal);
    const model = viewColumns({
      table,
      inspection,
      query,
      params,
      checked,
      ...(refused === undefined ? {} : { refused }),
    });
    const title =
      model.errors.items.length > 0
        ? say('page.error-title', { title: say('counts.columns-short') })
        : say('counts.columns-title');
    return c.html(site.page('counts-columns', { title, section: 'counts' }, model));
  };

  const answer = async (c: Context, table: KeptTable): Promise<CountAnalysis | TableRefusal> => {
    const params = paramsOf(c);
    const query = readTableQuery(params, inspect(table).proposal);
    const key = `${language()} ${params}`;
    const known = table.answers.get(key) as CountAnalysis | undefined;
    if (known !== undefined) return known;
    const { mapping, leaveOut, without, options } = query;
    const judgement = await site.workshop.judgeTable({
      bytes: table.bytes,
      mapping,
      leaveOut,
      without,
      options,
    });
    if ('problem' in judgement) return judgement;
    table.answers.set(key, judgement);
    for (const oldest of table.answers.keys()) {
      if (table.answers.size <= ANSWERS_KEPT) break;
      table.answers.delete(oldest);
    }
    return judgement;
  };

  return new Hono()
    .get('/counts', (c) => start(c, '', ''))
    .post('/counts/table', async (c) => {
      const form = await c.req.formData();
      const sample = form.get('sample');
      const file = form.get('file');
      const text = form.get('text');
      let kept: KeptTable | undefined;
      if (typeof sample === 'string' && isSample(sample))
        kept = store.keep(SAMPLES[sample].name, new TextEncoder().encode(SAMPLES[sample].make()));
      else if (typeof file === 'object' && file !== null && file.size > 0)
        kept = store.keep(file.name.slice(0, 80), new Uint8Array(await file.arrayBuffer()));
      else if (typeof text === 'string' && text.trim() !== '')
        kept = store.keep(say('counts.pasted'), new TextEncoder().encode(text));
      return kept === undefined
        ? start(c, say('counts.no-table'), '')
        : c.redirect(`/counts/table/${kept.id}`, 303);
    })
    .get('/counts/table/:id', (c) => {
      const table = store.find(c.req.param('id'));
      return table === undefined ? gone(c) : columns(c, table, false);
    })
    .get('/counts/table/:id/answer', async (c) => {
      const table = store.find(c.req.param('id'));
      if (table === undefined) return gone(c);
      const params = paramsOf(c);
      const query = readTableQuery(params, inspect(table).proposal);
      if (query.problems.length > 0) return columns(c, table, true);
      const result = await answer(c, table);
      if ('problem' in result) return columns(c, table, true, result);
      const model = viewCountsAnswer(table, query, params, result, site.mill);
      return c.html(
        site.page('counts-answer', { title: say('counts.what-they-say'), section: 'counts' }, model),
      );
    })
    .get('/counts/table/:id/:file{[a-z]+\\.csv}', async (c) => {
      const table = store.find(c.req.param('id'));
      const name = EXPORTS.find((one) => `${one}.csv` === c.req.param('file'));
      if (table === undefined) return gone(c);
      if (name === undefined) return c.notFound();
      // A CSV file is the same in every language.
      const result = await inLanguage(SOURCE_LANGUAGE, () => answer(c, table));
      if ('problem' in result) return columns(c, table, true, result);
      return c.body(exportTable(result, name), 200, {
        'Content-Type': 'text/csv; charset=utf-8',
        'Content-Disposition': `attachment; filename="${name}.csv"`,
      });
    });
}

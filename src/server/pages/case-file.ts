import { Hono } from 'hono';
import { say } from '../../language/say.js';
import { readCase } from '../../rules/case/case-file.js';
import type { CaseProblem } from '../../rules/case/types.js';
import { writeCase } from '../../rules/case/write-case.js';
import type { OpenCasePage } from '../../templates/models.js';
import { stateOfCase, writeQuery } from '../bench-state.js';
import type { Site } from '../site.js';

/** An address longer than this is refused by proxies and browsers on the way. */
const LONGEST_QUERY = 12_000;

/** Case files: the case in hand as a file, and a file onto the bench. */
export function caseFilePages(site: Site): Hono {
  const show = (model: OpenCasePage) =>
    site.page(
      'open-case',
      {
        title:
          model.problems.length > 0
            ? say('page.error-title', { title: say('open-file.heading') })
            : say('open-file.heading'),
        section: 'case-file',
      },
      model,
    );
  return new Hono()
    .get('/case.yaml', (c) => {
      const { state, form } = site.readCase(c.req.url);
      const text = writeCase(form.case);
      return c.body(text, 200, {
        'Content-Type': 'application/yaml; charset=utf-8',
        'Content-Disposition': `attachment; filename="case${state.frame === undefined ? '' : `-${state.frame.id}`}.yaml"`,
      });
    })
    .get('/case', (c) => c.html(show({ backHref: '/', text: '', problems: [] })))
    .post('/case', async (c) => {
      const form = await c.req.formData();
      const file = form.get('file');
      const pasted = form.get('text');
      const text =
        typeof file === 'object' && file !== null && file.size > 0
          ? await file.text()
          : typeof pasted === 'string'
            ? pasted
            : '';
      const problems = (list: readonly CaseProblem[]) =>
        // Wrong input is answered at once: a case file is too long for an address, and nothing is kept here.
        c.html(show({ backHref: '/', text, problems: list.map(viewProblem) }), 422);
      if (text.trim() === '')
        return problems([
          {
            field: '',
            value: '',
            message: 'there is no text',
            allowed: ['a file, or its text pasted into the box'],
          },
        ]);
      const reading = readCase(text, site.vocabulary, { partial: true });
      if (!reading.ok) return problems(reading.problems);
      const query = writeQuery(stateOfCase(reading.case));
      if (query.length > LONGEST_QUERY)
        return problems([
          {
            field: '',
            value: `${text.length} characters`,
            message: 'the case is too long for an address of the bench; the command line reads it',
            allowed: ['a case with a shorter note and fewer single readings'],
          },
        ]);
      return c.redirect(`/bench${query}`, 303);
    });
}

function viewProblem(problem: CaseProblem): OpenCasePage['problems'][number] {
  const line = problem.line === undefined ? '' : say('open-file.line', { n: problem.line });
  return {
    place: [line, problem.field].filter((one) => one !== '').join(', '),
    message: `${problem.message.charAt(0).toUpperCase()}${problem.message.slice(1)}`,
    value: problem.value,
    allowed: problem.allowed.length > 12 ? '' : problem.allowed.join('; '),
  };
}

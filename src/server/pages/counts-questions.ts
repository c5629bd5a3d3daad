import { type Context, Hono } from 'hono';
import { SOURCE_LANGUAGE } from '../../language/languages.js';
import { say } from '../../language/say.js';
import { inLanguage } from '../../language/scope.js';
import { exportFigures } from '../../statistics/analysis/index.js';
import { StatisticsError } from '../../statistics/errors.js';
import { writeCsv } from '../../statistics/tables/index.js';
import type { CountsFormPage } from '../../templates/counts-models.js';
import { readNumberForm } from '../counts/number-form.js';
import { COUNT_QUESTIONS, type CountQuestion, checkTrial, type QuestionAnswer } from '../counts/questions.js';
import {
  answerWavelength,
  fieldsOfFrame,
  type WavelengthAnswer,
  wavelengthFields,
  wavelengthGroups,
} from '../counts/wavelength-question.js';
import { sayFigure } from '../pictures/counts/count-picture.js';
import type { Site } from '../site.js';
import { viewForm, viewQuestionAnswer } from '../views/counts/form.js';
import { viewFrames } from '../views/counts/shared.js';
import { controlId } from '../views/errors.js';

/** Questions of counts and trials that need no file: the address holds what was typed. */
export function countsQuestionPages(site: Site): Hono {
  const app = new Hono();
  for (const [path, make] of COUNT_QUESTIONS) app.get(path, (c) => ask(c, site, make));
  return app.get('/counts/wavelength', (c) => askWavelength(c, site));
}

function show(c: Context, site: Site, model: CountsFormPage) {
  const title =
    model.errors.items.length > 0 ? say('page.error-title', { title: model.heading }) : model.heading;
  return c.html(site.page('counts-form', { title, section: 'counts' }, model));
}

function ask(c: Context, site: Site, make: () => CountQuestion) {
  const question = make();
  const params = new URL(c.req.url).searchParams;
  const asCsv = params.get('format') === 'csv';
  const form = readNumberForm(
    params,
    question.groups.flatMap((group) => group.fields),
  );
  let problems = form.problems;
  if (form.asked && Object.keys(problems).length === 0 && question.path === '/counts/trial')
    problems = checkTrial(form.values);
  let answer: QuestionAnswer | undefined;
  if (form.asked && Object.keys(problems).length === 0) {
    try {
      // A CSV file is the same in every language.
      answer = asCsv
        ? inLanguage(SOURCE_LANGUAGE, () => make().answer(form.values))
        : question.answer(form.values);
    } catch (error) {
      if (!(error instanceof StatisticsError)) throw error;
      const [first] = question.groups.flatMap((group) => group.fields);
      // The statistics name fields of their own; the page's first field that was typed stands for them.
      problems = {
        [first?.name ?? '']: say('count-question.not-together', {
          field: error.field,
          allowed: error.allowed,
        }),
      };
    }
  }
  if (answer !== undefined && asCsv)
    return csv(
      c,
      question.path,
      answer.table === undefined
        ? exportFigures(answer.figures)
        : writeCsv(answer.table.columns, answer.table.rows),
    );
  params.delete('format');
  return show(c, site, {
    ...viewForm(question, form.typed, problems),
    answer:
      answer === undefined
        ? undefined
        : viewQuestionAnswer(answer, site.mill, `${question.path}?${params}&format=csv`),
  });
}

const csv = (c: Context, path: string, text: string) =>
  c.body(text, 200, {
    'Content-Type': 'text/csv; charset=utf-8',
    'Content-Disposition': `attachment; filename="${path.split('/').at(-1)}.csv"`,
  });

const UNITS = ['m', 'cm', 'mm'] as const;

function askWavelength(c: Context, site: Site) {
  const params = new URL(c.req.url).searchParams;
  const frame = params.get('frame') ?? '';
  // The card fills what was left empty.
  for (const [name, value] of Object.entries(fieldsOfFrame(site.mill, frame)))
    if ((params.get(name) ?? '') === '') params.set(name, value);
  const peakTyped = (params.get('peak') ?? '') !== '';
  const form = readNumberForm(params, wavelengthFields());
  const problems = peakTyped || params.has('unit') ? form.problems : {};
  const unit = UNITS.find((one) => one === params.get('unit')) ?? 'm';
  const good = peakTyped && Object.keys(problems).length === 0;
  const answer = good ? answerWavelength(form.values, unit) : undefined;
  if (answer !== undefined && params.get('format') === 'csv')
    return inLanguage(SOURCE_LANGUAGE, () => {
      const { columns, rows } = matchTable(answerWavelength(form.values, unit));
      return csv(c, '/counts/wavelength', writeCsv(columns, rows));
    });
  const { columns, rows } = matchTable(answer);
  params.delete('format');
  const question = {
    path: '/counts/wavelength',
    heading: say('count-question.wave-heading'),
    lead: say('count-question.wave-lead'),
    button: say('count-question.wave-button'),
    hint: say('count-question.wave-hint'),
    groups: wavelengthGroups(),
  };
  const model = viewForm(question, form.typed, problems);
  const frames = viewFrames(site.mill).map((one) => ({ ...one, chosen: one.value === frame }));
  const [first] = model.groups;
  return show(c, site, {
    ...model,
    groups: [
      {
        title: first?.title ?? '',
        fields: first?.fields ?? [],
        selects: [
          {
            id: controlId('unit'),
            name: 'unit',
            label: say('count-question.wave-unit'),
            hint: '',
            options: UNITS.map((one) => ({
              id: `f-unit-${one}`,
              value: one,
              label: one,
              chosen: one === unit,
            })),
          },
          {
            id: controlId('frame'),
            name: 'frame',
            label: say('count-question.frame'),
            hint: '',
            options: frames,
          },
        ],
      },
      ...model.groups.slice(1),
    ],
    answer:
      answer === undefined
        ? undefined
        : {
            sentences: answer.sentences,
            table:
              rows.length === 0 ? undefined : { caption: say('count-question.what-fits'), columns, rows },
            pictures: [],
            figures: [],
            diagnose:
              answer.finding === undefined
                ? undefined
                : {
                    fields: [{ name: 'findings.spectrogram', value: answer.finding }],
                    carries: [say('count-question.spectrogram')],
                    frames,
                  },
            download: rows.length === 0 ? '' : `/counts/wavelength?${params}&format=csv`,
          },
  });
}

/** What fits, as columns and rows. */
function matchTable(answer: WavelengthAnswer | undefined) {
  return {
    columns: [say('count-question.from'), say('count-question.expected'), say('count-question.off')],
    rows: (answer?.matches ?? []).map((match) => {
      const times = match.harmonic ?? 1;
      const part = match.kind === 'rotor' ? say('count-question.rotor') : match.source;
      return [
        times > 1 ? `${part}, ${say('count-question.marks', { n: times })}` : part,
        sayLength(match.expectedMm.from, match.expectedMm.to),
        `${Math.round(100 * match.deviation)} %`,
      ];
    }),
  };
}

function sayLength(from: number, to: number): string {
  const unit = to >= 1000 ? ([1000, 'm'] as const) : to >= 100 ? ([10, 'cm'] as const) : ([1, 'mm'] as const);
  const [scale, name] = unit;
  const low = sayFigure(from / scale);
  const high = sayFigure(to / scale);
  return low === high ? `${low} ${name}` : say('count-question.length-range', { low, high, unit: name });
}

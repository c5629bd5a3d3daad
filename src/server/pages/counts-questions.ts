import { type Context, Hono } from 'hono';
import { exportFigures } from '../../statistics/analysis/index.js';
import { StatisticsError } from '../../statistics/errors.js';
import { writeCsv } from '../../statistics/tables/index.js';
import type { CountsFormPage } from '../../templates/counts-models.js';
import { readNumberForm } from '../counts/number-form.js';
import { COUNT_QUESTIONS, type CountQuestion, checkTrial, type QuestionAnswer } from '../counts/questions.js';
import {
  answerWavelength,
  fieldsOfFrame,
  WAVELENGTH_FIELDS,
  WAVELENGTH_GROUPS,
} from '../counts/wavelength-question.js';
import { sayFigure } from '../pictures/counts/count-picture.js';
import type { Site } from '../site.js';
import { viewForm, viewQuestionAnswer } from '../views/counts/form.js';
import { viewFrames } from '../views/counts/shared.js';
import { controlId } from '../views/errors.js';

/** Questions of counts and trials that need no file: the address holds what was typed. */
export function countsQuestionPages(site: Site): Hono {
  const app = new Hono();
  for (const question of COUNT_QUESTIONS) app.get(question.path, (c) => ask(c, site, question));
  return app.get('/counts/wavelength', (c) => askWavelength(c, site));
}

function show(c: Context, site: Site, model: CountsFormPage) {
  const title = `${model.errors.items.length > 0 ? 'Error: ' : ''}${model.heading}`;
  return c.html(site.page('counts-form', { title, section: 'counts' }, model));
}

function ask(c: Context, site: Site, question: CountQuestion) {
  const params = new URL(c.req.url).searchParams;
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
      answer = question.answer(form.values);
    } catch (error) {
      if (!(error instanceof StatisticsError)) throw error;
      const [first] = question.groups.flatMap((group) => group.fields);
      // The statistics name fields of their own; the page's first field that was typed stands for them.
      problems = {
        [first?.name ?? '']: `These do not go together. Allowed for ${error.field}: ${error.allowed}.`,
      };
    }
  }
  if (answer !== undefined && params.get('format') === 'csv')
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
  const form = readNumberForm(params, WAVELENGTH_FIELDS);
  const problems = peakTyped || params.has('unit') ? form.problems : {};
  const unit = UNITS.find((one) => one === params.get('unit')) ?? 'm';
  const good = peakTyped && Object.keys(problems).length === 0;
  const answer = good ? answerWavelength(form.values, unit) : undefined;
  const columns = ['From', 'Wavelength to be expected', 'Off by'];
  const rows = (answer?.matches ?? []).map((match) => [
    `${match.kind === 'rotor' ? 'rotor' : match.source}${(match.harmonic ?? 1) > 1 ? `, ${match.harmonic} marks a turn` : ''}`,
    sayLength(match.expectedMm.from, match.expectedMm.to),
    `${Math.round(100 * match.deviation)} %`,
  ]);
  if (answer !== undefined && params.get('format') === 'csv')
    return csv(c, '/counts/wavelength', writeCsv(columns, rows));
  params.delete('format');
  const question = {
    path: '/counts/wavelength',
    heading: 'Wavelength of a peak',
    lead: 'A spectrogram shows a peak or a hump: which part makes it?',
    button: 'Match it',
    hint: 'Choose a frame to fill rotor, staple and draft from its card.',
    groups: WAVELENGTH_GROUPS,
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
            label: 'Unit of the wavelength',
            hint: '',
            options: UNITS.map((one) => ({
              id: `f-unit-${one}`,
              value: one,
              label: one,
              chosen: one === unit,
            })),
          },
          { id: controlId('frame'), name: 'frame', label: 'Frame', hint: '', options: frames },
        ],
      },
      ...model.groups.slice(1),
    ],
    answer:
      answer === undefined
        ? undefined
        : {
            sentences: answer.sentences,
            table: rows.length === 0 ? undefined : { caption: 'What fits, nearest first', columns, rows },
            pictures: [],
            figures: [],
            diagnose:
              answer.finding === undefined
                ? undefined
                : {
                    fields: [{ name: 'findings.spectrogram', value: answer.finding }],
                    carries: ['what the spectrogram shows'],
                    frames,
                  },
            download: rows.length === 0 ? '' : `/counts/wavelength?${params}&format=csv`,
          },
  });
}

function sayLength(from: number, to: number): string {
  const unit = to >= 1000 ? ([1000, 'm'] as const) : to >= 100 ? ([10, 'cm'] as const) : ([1, 'mm'] as const);
  const [scale, name] = unit;
  const low = sayFigure(from / scale);
  const high = sayFigure(to / scale);
  return low === high ? `${low} ${name}` : `${low} to ${high} ${name}`;
}

import type { MessageKey } from '../../../language/say.js';
import { say } from '../../../language/say.js';
import { sourceText } from '../../../language/source-text.js';
import { inSentence } from '../../../language/words.js';
import { readCaseObject } from '../../../rules/case/case-file.js';
import { setupLabel } from '../../../rules/case/setup-fields.js';
import type { CaseInput, SetupPath } from '../../../rules/case/types.js';
import type { ComputedQuantity, SetupReport } from '../../../rules/index.js';
import { type Lesson, type Place, playSetup, type TrainingRoom } from '../../../rules/training/index.js';
import type { LessonPage } from '../../../templates/training-models.js';
import type { DrawnMark } from '../../pictures/drawing/draw-position.js';
import { drawPlay } from '../../pictures/play-chart.js';
import { drawYarnPath } from '../../pictures/yarn-path.js';
import { findTerms } from '../../training/term-words.js';
import { STANDING_WORDS, sayRough, sayUnit } from '../../words.js';
import { plainUnits } from '../plain-units.js';
import { describeSetup } from '../setup-line.js';

const PLACE_OF_PART: Readonly<Record<Lesson['part'], Place>> = {
  rotor: 'rotor',
  groove: 'rotor',
  nozzle: 'nozzle',
  tube: 'tube',
  'yarn-arm': 'rotor',
  package: 'winding',
};

/** Place on the drawing, and what it is called. */
const MARKED = {
  rotor: ['rotor-wall', 'lesson.mark-rotor'],
  groove: ['groove', 'lesson.mark-groove'],
  nozzle: ['nozzle-face', 'lesson.mark-nozzle'],
  tube: ['tube-bend', 'lesson.mark-tube'],
  'yarn-arm': ['yarn-arm', 'lesson.mark-yarn-arm'],
  package: ['winding', 'lesson.mark-package'],
} as const satisfies Record<Lesson['part'], readonly [string, MessageKey]>;

/** The mark that a lesson puts on the drawing of the position. */
export function lessonMark(lesson: Lesson): DrawnMark {
  const [place, called] = MARKED[lesson.part];
  return { place, placeLabel: say(called), label: lesson.title };
}

/** What the reader chose on a lesson's page. */
export interface LessonState {
  /** Place of the value played with, from 0. */
  readonly play: number;
  /** Answer to each question, from 0; undefined where it is still open. */
  readonly answers: readonly (number | undefined)[];
}

/** Reads the state of a lesson's page; what cannot be read counts as not chosen. */
export function readLessonState(lesson: Lesson, params: URLSearchParams): LessonState {
  const whole = (name: string, below: number): number | undefined => {
    const value = params.get(name) ?? '';
    return /^\d{1,2}$/.test(value) && Number(value) < below ? Number(value) : undefined;
  };
  return {
    play: whole('play', lesson.play.values.length) ?? 0,
    answers: lesson.questions.map((question, n) => whole(`q${n + 1}`, question.answers.length)),
  };
}

/** The frames of a lesson, one for each value to play with. */
export function lessonCases(lesson: Lesson, room: TrainingRoom): CaseInput[] {
  return lesson.play.values.map((value) => {
    const reading = readCaseObject({ setup: playSetup(lesson, value) }, room.vocabulary);
    if (!reading.ok) throw new Error(`lesson ${lesson.id}: "${value}" makes no setup`);
    return reading.case;
  });
}

/**
 * A lesson with its play and its questions.
 * @param reports computed state for each value to play with
 * @param description the drawing of the chosen value in words
 */
export function viewLesson(
  lesson: Lesson,
  room: TrainingRoom,
  state: LessonState,
  reports: readonly SetupReport[],
  description: string,
): LessonPage {
  const terms = findTerms(room.material.glossary);
  const lessons = room.material.lessons;
  const at = lessons.indexOf(lesson);
  const values = lesson.play.values.map((value) => sayValue(value));
  const quantity = (report: SetupReport, id: string): ComputedQuantity | undefined => report.computed[id];
  const lead = terms.explain(lesson.lead);
  const steps = lesson.steps.map((step) => ({
    title: sourceText(step.title),
    text: terms.explain(step.text),
  }));
  const link = (to: Lesson | undefined) =>
    to === undefined ? undefined : { href: `/training/lessons/${to.id}`, text: sourceText(to.title) };
  const right = lesson.questions.filter(
    (question, n) => question.answers[state.answers[n] ?? -1]?.right === true,
  ).length;
  const answered = state.answers.filter((answer) => answer !== undefined).length;
  return {
    title: sourceText(lesson.title),
    place: say('lesson.place', { n: at + 1, of: lessons.length }),
    lead,
    path: drawYarnPath(PLACE_OF_PART[lesson.part]),
    steps,
    mechanismHref: `/knowledge/mechanism/${lesson.mechanism}`,
    play: {
      action: `/training/lessons/${lesson.id}`,
      ask: sourceText(lesson.play.ask),
      label: settingLabel(lesson),
      options: values.map((label, i) => ({
        id: `play-${i}`,
        value: String(i),
        label,
        chosen: i === state.play,
      })),
      hidden: state.answers.flatMap((answer, n) =>
        answer === undefined ? [] : [{ name: `q${n + 1}`, value: String(answer) }],
      ),
      chosen: values[state.play] ?? '',
      frame: describeSetup(lessonCases(lesson, room)[0]?.given ?? { values: {}, typed: {} }),
      chart: drawPlay(
        lesson.play.watch.map((id) => {
          const first = reports[0] === undefined ? undefined : quantity(reports[0], id);
          return {
            label: first?.label ?? id,
            unit: first === undefined ? '' : unitOf(first),
            points: reports.map((report) => {
              const one = quantity(report, id);
              return { value: one?.value ?? 0, low: one?.low ?? 0, high: one?.high ?? 0 };
            }),
          };
        }),
        values,
        state.play,
      ),
      heads: values,
      rows: lesson.play.watch.map((id) => {
        const first = reports[0] === undefined ? undefined : quantity(reports[0], id);
        const unit = first === undefined ? '' : unitOf(first);
        return {
          label: `${first?.label ?? id}${unit === '' ? '' : `, ${unit}`}`,
          meaning: first?.meaning ?? '',
          standing: first === undefined ? '' : STANDING_WORDS[first.standing],
          values: reports.map((report, i) => ({
            value: sayRough(quantity(report, id)?.value ?? 0),
            chosen: i === state.play,
          })),
        };
      }),
      sees: sourceText(lesson.play.sees),
      drawing: {
        wide: `/training/lessons/${lesson.id}/drawing.svg?play=${state.play}&layout=wide`,
        tall: `/training/lessons/${lesson.id}/drawing.svg?play=${state.play}`,
        title: say('lesson.drawing', {
          setting: inSentence(settingLabel(lesson)),
          value: values[state.play] ?? '',
        }).trim(),
        words: description,
        compared: state.play === 0 ? '' : (values[0] ?? ''),
      },
    },
    questions: lesson.questions.map((question, n) => {
      const given = state.answers[n];
      const answer = given === undefined ? undefined : question.answers[given];
      return {
        id: `question-${n + 1}`,
        name: `q${n + 1}`,
        ask: sourceText(question.ask),
        options: question.answers.map((one, i) => ({
          id: `question-${n + 1}-${i}`,
          value: String(i),
          label: sourceText(one.text),
          chosen: i === given,
        })),
        verdict:
          answer === undefined ? '' : answer.right === true ? say('lesson.right') : say('lesson.not-so'),
        right: answer?.right === true,
        why: sourceText(answer?.why ?? ''),
      };
    }),
    questionHidden: state.play === 0 ? [] : [{ name: 'play', value: String(state.play) }],
    questionForm: {
      method: 'get',
      action: `/training/lessons/${lesson.id}#questions`,
      submit: say('lesson.check'),
    },
    score: answered === 0 ? '' : say('lesson.score', { right, of: lesson.questions.length }),
    back: link(lessons[at - 1]),
    next: link(lessons[at + 1]),
  };
}

function settingLabel(lesson: Lesson): string {
  if (lesson.play.setting === 'nozzle.texture') return say('lesson.nozzle-face');
  return setupLabel(lesson.play.setting as SetupPath);
}

const sayValue = (value: string | number) =>
  plainUnits(String(value)).replace(/^(\d+)-notches$/, (_, n: string) => say('lesson.notches', { n }));

function unitOf(quantity: ComputedQuantity): string {
  return ['ratio', 'margin', 'index'].includes(quantity.unit) ? '' : sayUnit(quantity.unit);
}

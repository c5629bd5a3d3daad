import type { Mill } from '../../../rules/knowledge/load-mill.js';
import type { CountsFormPage } from '../../../templates/counts-models.js';
import type { NumberSpec } from '../../counts/number-form.js';
import type { QuestionAnswer } from '../../counts/questions.js';
import { controlId } from '../errors.js';
import { viewDiagnose, viewFigures, viewPicture, viewTabs } from './shared.js';

/** The form of a question without a file, with what was typed and what is wrong with it. */
export function viewForm(
  question: {
    readonly path: string;
    readonly heading: string;
    readonly lead: string;
    readonly button: string;
    readonly hint: string;
    readonly groups: readonly { readonly title: string; readonly fields: readonly NumberSpec[] }[];
  },
  typed: Readonly<Record<string, string>>,
  problems: Readonly<Record<string, string>>,
): Omit<CountsFormPage, 'answer'> {
  const specs = question.groups.flatMap((group) => group.fields);
  return {
    tabs: viewTabs(question.path),
    heading: question.heading,
    lead: question.lead,
    action: question.path,
    errors: {
      items: specs
        .filter((spec) => problems[spec.name] !== undefined)
        .map((spec) => ({
          href: `#${controlId(spec.name)}`,
          text: `${spec.label}: ${problems[spec.name] ?? ''}`,
          allowed: '',
        })),
    },
    groups: question.groups.map((group) => ({
      title: group.title,
      selects: [],
      fields: group.fields.map((spec) => ({
        id: controlId(spec.name),
        name: spec.name,
        label: spec.label,
        unit: spec.unit ?? '',
        value: typed[spec.name] ?? '',
        hint: spec.hint ?? '',
        error: problems[spec.name] ?? '',
        numeric: true,
      })),
    })),
    button: question.button,
    hint: question.hint,
  };
}

/** The answer to a question without a file. */
export function viewQuestionAnswer(
  answer: QuestionAnswer,
  mill: Mill,
  download: string,
): NonNullable<CountsFormPage['answer']> {
  return {
    sentences: answer.sentences.map((one) => one.text),
    table: answer.table,
    pictures: answer.pictures.map((one) => viewPicture(one)),
    figures: viewFigures(answer.figures),
    diagnose: viewDiagnose({ scope: undefined, onset: undefined, endBreaks: answer.endBreaks }, mill),
    download,
  };
}

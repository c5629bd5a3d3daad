import { say } from '../../../language/say.js';
import {
  formatNumber,
  QUANTITY_FIELDS,
  setupLabel,
  WORD_FIELDS,
  withUnitSign,
} from '../../../rules/case/setup-fields.js';
import type { CaseInput, GivenSetup } from '../../../rules/case/types.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { RuleBook } from '../../../rules/knowledge/knowledge-base.js';
import { CHANGE_WORDS, joinWords, ONSET_WORDS, SCOPE_WORDS, sentenceCase } from '../../../rules/words.js';
import type { FactRow } from '../../../templates/training-models.js';
import { plainUnits } from '../plain-units.js';

/** A setup as a list of terms, in the units in which it was written. */
export function viewCard(given: GivenSetup, knowledge: Knowledge): FactRow[] {
  const rows: FactRow[] = [];
  const { values, typed } = given;
  if (values.fibres !== undefined)
    rows.push({
      term: say('practice.fibre'),
      text: values.fibres
        .map((one) => {
          const name = knowledge.fibres.get(one.fibre)?.label ?? one.fibre;
          return values.fibres?.length === 1
            ? name
            : `${formatNumber(100 * one.share)} % ${name.toLowerCase()}`;
        })
        .join(', '),
    });
  if (given.endUse !== undefined)
    rows.push({
      term: say('practice.end-use'),
      text: knowledge.endUses.get(given.endUse)?.label ?? given.endUse,
    });
  for (const field of QUANTITY_FIELDS) {
    const value = values[field.key];
    if (value === undefined || (field.key === 'notches' && value === 0)) continue;
    rows.push({
      term: field.label,
      text: plainUnits(typed[field.path] ?? withUnitSign(formatNumber(value / field.scale), field.unit)),
    });
  }
  for (const field of WORD_FIELDS) {
    const value = values[field.key];
    if (value !== undefined) rows.push({ term: setupLabel(field.path), text: value });
  }
  return rows;
}

/** Place, beginning, changes, counts and tests of a case. */
export function viewKnown(input: CaseInput, book: RuleBook): FactRow[] {
  const rows: FactRow[] = [];
  if (input.scope.length > 0)
    rows.push({
      term: say('practice.where-seen'),
      text: sentenceCase(joinWords(input.scope.map((one) => SCOPE_WORDS[one]))),
    });
  if (input.onset.length > 0)
    rows.push({
      term: say('practice.began'),
      text: sentenceCase(joinWords(input.onset.map((one) => ONSET_WORDS[one]))),
    });
  rows.push({
    term: say('practice.changed'),
    text:
      input.changed.length === 0
        ? say('practice.nobody')
        : sentenceCase(joinWords(input.changed.map((one) => CHANGE_WORDS[one]))),
  });
  const breaks = input.measurements.endBreaks;
  if (breaks?.kind === 'against-norm')
    rows.push({
      term: say('practice.breaks'),
      text:
        breaks.pickedFrom === undefined
          ? say('practice.against-norm', against(breaks))
          : say('practice.against-norm-worst', { ...against(breaks), of: breaks.pickedFrom }),
    });
  if (breaks?.kind === 'two-groups')
    rows.push({
      term: say('practice.breaks'),
      text: say('practice.two-groups', {
        here: breaks.b.count,
        hours: formatNumber(breaks.b.rotorHours),
        there: breaks.a.count,
        thereHours: formatNumber(breaks.a.rotorHours),
      }),
    });
  for (const [property, measured] of Object.entries(input.measurements.values)) {
    if (measured?.kind !== 'summary') continue;
    rows.push({
      term: sentenceCase(property.replace(/-/g, ' ')),
      text: say('practice.tests', {
        mean: formatNumber(measured.mean),
        n: measured.tests,
        target: formatNumber(measured.target),
      }),
    });
  }
  for (const [id, outcomes] of Object.entries(input.findings)) {
    const check = book.checks.get(id);
    rows.push({
      term: check?.label ?? id,
      text: joinWords(outcomes.map((outcome) => check?.outcomes[outcome]?.label ?? outcome)),
    });
  }
  return rows;
}

const against = (breaks: {
  readonly count: number;
  readonly rotorHours: number;
  readonly normPer1000: number;
}) => ({
  breaks: breaks.count,
  hours: formatNumber(breaks.rotorHours),
  norm: formatNumber(breaks.normPer1000),
});

/** What the card said before the trouble, where it differs. */
export function viewBefore(before: GivenSetup | undefined, knowledge: Knowledge): FactRow[] {
  if (before === undefined) return [];
  return viewCard(before, knowledge).map((row) => ({
    term: say('practice.before', { term: row.term }),
    text: row.text,
  }));
}

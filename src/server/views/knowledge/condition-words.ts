import { say, wordTable } from '../../../language/say.js';
import { fibreWord, optionWord } from '../../../rules/case/option-words.js';
import { formatNumber, setupField, setupLabel, withUnitSign } from '../../../rules/case/setup-fields.js';
import { SETUP_PATHS } from '../../../rules/case/types.js';
import { MARGIN_WORDS } from '../../../rules/diagnosis/margins.js';
import type { COMPUTED_FACTS } from '../../../rules/knowledge/facts.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { Comparison, Condition } from '../../../rules/knowledge/schema.js';
import {
  CHANGE_WORDS,
  inSentence,
  joinWords,
  LEVEL_WORDS,
  ONSET_WORDS,
  SCOPE_WORDS,
} from '../../../rules/words.js';
import { sayUnit } from '../../words.js';

type Value = Comparison['value'];

/** A condition in words: "the nozzle surface is smooth and the share of cotton is at least 50 %". */
export function sayCondition(condition: Condition, knowledge: Knowledge): string {
  const inner = (one: Condition) =>
    'fact' in one ? sayComparison(one, knowledge) : `(${sayCondition(one, knowledge)})`;
  if ('all' in condition) return condition.all.map(inner).join(` ${say('words.and')} `);
  if ('any' in condition) return condition.any.map(inner).join(` ${say('words.or')} `);
  return sayComparison(condition, knowledge);
}

function sayComparison({ fact, operator, value }: Comparison, knowledge: Knowledge): string {
  const dot = fact.indexOf('.');
  const head = dot < 0 ? fact : fact.slice(0, dot);
  const rest = dot < 0 ? '' : fact.slice(dot + 1);
  const tell = (subject: string, word: (value: string | number) => string = String) =>
    say(`condition.${operator}`, { subject, value: sayValue(value, operator, word) });
  switch (head) {
    case 'setup':
      return saySetting(rest, tell, knowledge);
    case 'fibre':
      return sayFibre(rest, tell);
    case 'deviation':
      return sayDifference(rest, say('condition.usual'), operator, value);
    case 'before':
      return sayDifference(rest, say('condition.was-before'), operator, value);
    case 'computed': {
      const name = rest as keyof typeof COMPUTED_UNITS;
      const what = COMPUTED_WORDS[name] ?? rest;
      return tell(say('condition.computed', { what }), withUnit(COMPUTED_UNITS[name] ?? ''));
    }
    case 'chance': {
      const margin = inSentence(MARGIN_WORDS[rest as keyof typeof MARGIN_WORDS]?.label ?? rest);
      return tell(say('condition.chance', { margin }), (one) => `${formatNumber(Number(one) * 100)} %`);
    }
    case 'observed':
      return tell(say('condition.sign', { sign: knowledge.book.symptoms.get(rest)?.label ?? rest }), (one) =>
        word(LEVEL_WORDS, one),
      );
    case 'found': {
      const check = knowledge.book.checks.get(rest);
      return tell(say('condition.answer', { check: check?.label ?? rest }), (one) =>
        say('reasoning.quoted', { text: check?.outcomes[one]?.label ?? one }),
      );
    }
    case 'where':
      return tell(say('condition.place'), (one) => word(SCOPE_WORDS, one));
    case 'began':
      return tell(say('condition.beginning'), (one) => word(ONSET_WORDS, one));
    case 'changed':
      return tell(say('condition.changed-before'), (one) => word(CHANGE_WORDS, one));
    default:
      return tell(fact);
  }
}

type Tell = (subject: string, word?: (value: string | number) => string) => string;

function saySetting(name: string, tell: Tell, { endUses }: Knowledge): string {
  if (name === 'alpha-e') return tell(say('condition.twist-multiplier'), withUnit('αe'));
  if (name === 'end-use')
    return tell(say('condition.end-use'), (one) =>
      say('reasoning.quoted', { text: endUses.get(String(one))?.label ?? one }),
    );
  const path = SETUP_PATHS.find((one) => one === name);
  if (path === undefined) return tell(name);
  const field = setupField(path);
  const subject = say('condition.setting', { label: inSentence(setupLabel(path)) });
  return field?.type === 'quantity'
    ? tell(subject, withUnit(field.unit))
    : tell(subject, (one) => optionWord(String(one)));
}

function sayFibre(name: string, tell: Tell): string {
  if (name === 'main') return tell(say('condition.main-fibre'), (one) => fibreWord(String(one)));
  if (name === 'thermoplastic') return tell(say('condition.melting-share'), withUnit('%'));
  return tell(say('condition.fibre-share', { fibre: fibreWord(name) }), withUnit('%'));
}

/** In what the difference of a compared setting is counted. */
const COMPARED_UNITS = {
  twist: '%',
  'rotor-speed': '%',
  'opening-roller': '%',
  texture: 'steps',
  insert: 'steps',
  'nozzle-radius': 'mm',
  'nozzle-protrusion': 'mm',
  'rotor-diameter': 'mm',
  'tube-bend': 'deg',
} as const;
type Compared = keyof typeof COMPARED_UNITS;
const COMPARED_WORDS: Readonly<Record<Compared, string>> = wordTable(
  'compared-setting',
  Object.keys(COMPARED_UNITS) as Compared[],
);

const SAME_SIZE = {
  is: 'same-as',
  'is-not': 'differs-from',
  above: 'above-than',
  below: 'below-than',
  'at-least': 'not-below',
  'at-most': 'not-above',
} as const;

/** "the twist is at least 5 % below the usual". */
function sayDifference(name: string, than: string, operator: Comparison['operator'], value: Value): string {
  const label = COMPARED_WORDS[name as Compared] ?? name;
  const size = typeof value === 'number' ? value : 0;
  if (size === 0)
    return say(`condition.${SAME_SIZE[operator as keyof typeof SAME_SIZE] ?? 'same-as'}`, { label, than });
  const up = operator === 'above' || operator === 'at-least';
  const strict = operator === 'above' || operator === 'below';
  const side = size > 0 ? 'above' : 'below';
  // Beyond the value on its own side ("at most −5 %"), or anything short of it.
  const degree = up === size > 0 ? (strict ? 'more' : 'least') : strict ? 'less' : 'most';
  const amount = sayAmount(Math.abs(size), COMPARED_UNITS[name as Compared] ?? '');
  return say(`condition.${degree}-${side}`, { label, amount, than });
}

const sayAmount = (size: number, unit: string) =>
  unit === 'steps' ? say('condition.steps', { n: size }) : withUnit(unit)(size);

type Computed = (typeof COMPUTED_FACTS)[number];
const COMPUTED_UNITS: Readonly<Record<Computed, string>> = {
  'fibres-in-section': '',
  draft: '',
  'rotor-to-staple': '',
  'nozzle-life-used': '%',
  'yarn-temperature-rise': 'K',
  'tension-share': '%',
  'back-doublings': '',
  'rim-speed': 'm/s',
};
const COMPUTED_WORDS: Readonly<Record<Computed, string>> = wordTable(
  'computed-fact',
  Object.keys(COMPUTED_UNITS) as Computed[],
);

function sayValue(
  value: Value,
  operator: Comparison['operator'],
  word: (value: string | number) => string,
): string {
  if (!Array.isArray(value)) return word(value);
  return joinWords(value.map(word), operator === 'is-none-of' ? 'nor' : 'or');
}

const withUnit = (unit: string) => (value: string | number) =>
  typeof value === 'string'
    ? optionWord(value)
    : withUnitSign(
        formatNumber(value).replace('-', '−'),
        unit === 'deg' || unit === 'C' ? unit : sayUnit(unit),
      );

const word = (words: Readonly<Partial<Record<string, string>>>, value: string | number) =>
  words[value] ?? String(value);

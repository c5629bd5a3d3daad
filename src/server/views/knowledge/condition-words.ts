import { formatNumber, setupField, setupLabel, withUnitSign } from '../../../rules/case/setup-fields.js';
import { SETUP_PATHS } from '../../../rules/case/types.js';
import { MARGIN_WORDS } from '../../../rules/diagnosis/margins.js';
import type { COMPUTED_FACTS } from '../../../rules/knowledge/facts.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { Comparison, Condition } from '../../../rules/knowledge/schema.js';
import { CHANGE_WORDS, joinWords, LEVEL_WORDS, ONSET_WORDS, SCOPE_WORDS } from '../../../rules/words.js';
import { sayUnit } from '../../words.js';

type Value = Comparison['value'];

/** A condition in words: "the nozzle surface is smooth and the share of cotton is at least 50 %". */
export function sayCondition(condition: Condition, knowledge: Knowledge): string {
  const inner = (one: Condition) =>
    'fact' in one ? sayComparison(one, knowledge) : `(${sayCondition(one, knowledge)})`;
  if ('all' in condition) return condition.all.map(inner).join(' and ');
  if ('any' in condition) return condition.any.map(inner).join(' or ');
  return sayComparison(condition, knowledge);
}

const OPERATOR_WORDS: Record<Comparison['operator'], string> = {
  is: 'is',
  'is-not': 'is not',
  'is-one-of': 'is',
  'is-none-of': 'is neither',
  below: 'is below',
  'at-most': 'is at most',
  'at-least': 'is at least',
  above: 'is above',
  includes: 'is',
  excludes: 'is not',
};

function sayComparison({ fact, operator, value }: Comparison, knowledge: Knowledge): string {
  const dot = fact.indexOf('.');
  const head = dot < 0 ? fact : fact.slice(0, dot);
  const rest = dot < 0 ? '' : fact.slice(dot + 1);
  const say = (subject: string, word: (value: string | number) => string = String) =>
    `${subject} ${OPERATOR_WORDS[operator]} ${sayValue(value, operator, word)}`;
  switch (head) {
    case 'setup':
      return saySetting(rest, say, knowledge);
    case 'fibre':
      return sayFibre(rest, say, knowledge);
    case 'deviation':
      return sayDifference(rest, 'the usual', operator, value);
    case 'before':
      return sayDifference(rest, 'what it was before', operator, value);
    case 'computed': {
      const computed = COMPUTED_WORDS[rest as keyof typeof COMPUTED_WORDS];
      return say(`the computed ${computed?.[0] ?? rest}`, withUnit(computed?.[1] ?? ''));
    }
    case 'chance': {
      const margin = MARGIN_WORDS[rest as keyof typeof MARGIN_WORDS]?.label.toLowerCase() ?? rest;
      return say(
        `the chance that nothing is left of “${margin}”`,
        (one) => `${formatNumber(Number(one) * 100)} %`,
      );
    }
    case 'observed':
      return say(`the sign “${knowledge.book.symptoms.get(rest)?.label ?? rest}”`, (one) =>
        word(LEVEL_WORDS, one),
      );
    case 'found': {
      const check = knowledge.book.checks.get(rest);
      return say(
        `the answer to “${check?.label ?? rest}”`,
        (one) => `“${check?.outcomes[one]?.label ?? one}”`,
      );
    }
    case 'where':
      return say('the place', (one) => word(SCOPE_WORDS, one));
    case 'began':
      return say('the beginning', (one) => word(ONSET_WORDS, one));
    case 'changed':
      return say('what was changed shortly before', (one) => word(CHANGE_WORDS, one));
    default:
      return say(fact);
  }
}

type Say = (subject: string, word?: (value: string | number) => string) => string;

function saySetting(name: string, say: Say, { endUses }: Knowledge): string {
  if (name === 'alpha-e') return say('the twist multiplier', withUnit('αe'));
  if (name === 'end-use') return say('the end use', (one) => `“${endUses.get(String(one))?.label ?? one}”`);
  const path = SETUP_PATHS.find((one) => one === name);
  if (path === undefined) return say(name);
  const field = setupField(path);
  const subject = `the ${lowerFirst(setupLabel(path))}`;
  return field?.type === 'quantity' ? say(subject, withUnit(field.unit)) : say(subject, (one) => plain(one));
}

function sayFibre(name: string, say: Say, { fibres }: Knowledge): string {
  if (name === 'main') return say('the main fibre', (one) => labelOf(one));
  if (name === 'thermoplastic') return say('the share of fibre that melts', withUnit('%'));
  return say(`the share of ${labelOf(name)}`, withUnit('%'));
  function labelOf(id: string | number) {
    return lowerFirst(fibres.get(String(id))?.label ?? String(id));
  }
}

/** What a compared setting is called, and in what its difference is counted. */
const COMPARED_WORDS: Readonly<Record<string, readonly [string, string]>> = {
  twist: ['twist', '%'],
  'rotor-speed': ['rotor speed', '%'],
  'opening-roller': ['opening-roller speed', '%'],
  texture: ['nozzle texture', 'steps'],
  insert: ['twist retention of the insert', 'steps'],
  'nozzle-radius': ['nozzle entry radius', 'mm'],
  'nozzle-protrusion': ['nozzle protrusion', 'mm'],
  'rotor-diameter': ['rotor diameter', 'mm'],
  'tube-bend': ['bend of the draw-off tube', 'deg'],
};

/** "the twist is at least 5 % below the usual". */
function sayDifference(name: string, than: string, operator: Comparison['operator'], value: Value): string {
  const [label, unit] = COMPARED_WORDS[name] ?? [name, ''];
  const size = typeof value === 'number' ? value : 0;
  const amount = sayAmount(Math.abs(size), unit);
  const up = operator === 'above' || operator === 'at-least';
  const strict = operator === 'above' || operator === 'below';
  if (size === 0) {
    const words = {
      is: 'is the same as',
      'is-not': 'differs from',
      above: 'is above',
      below: 'is below',
      'at-least': 'is not below',
      'at-most': 'is not above',
    };
    return `the ${label} ${words[operator as keyof typeof words] ?? operator} ${than}`;
  }
  const side = size > 0 ? 'above' : 'below';
  // Beyond the value on its own side ("at most −5 %"), or anything short of it.
  if (up === size > 0)
    return `the ${label} is ${strict ? 'more than' : 'at least'} ${amount} ${side} ${than}`;
  return `the ${label} is ${strict ? 'less than' : 'at most'} ${amount} ${side} ${than}`;
}

const sayAmount = (size: number, unit: string) =>
  unit === 'steps' ? `${formatNumber(size)} ${size === 1 ? 'step' : 'steps'}` : withUnit(unit)(size);

const COMPUTED_WORDS: Record<(typeof COMPUTED_FACTS)[number], readonly [string, string]> = {
  'fibres-in-section': ['number of fibres in the yarn section', ''],
  draft: ['draft', ''],
  'rotor-to-staple': ['rotor diameter over staple length', ''],
  'nozzle-life-used': ['used share of the nozzle’s life', '%'],
  'yarn-temperature-rise': ['temperature rise of the yarn at the nozzle', 'K'],
  'tension-share': ['draw-off tension as a share of the yarn strength', '%'],
  'back-doublings': ['number of back doublings', ''],
  'rim-speed': ['rim speed of the rotor', 'm/s'],
};

function sayValue(
  value: Value,
  operator: Comparison['operator'],
  say: (value: string | number) => string,
): string {
  if (!Array.isArray(value)) return say(value);
  return joinWords(value.map(say), operator === 'is-none-of' ? 'nor' : 'or');
}

const withUnit = (unit: string) => (value: string | number) =>
  typeof value === 'string'
    ? plain(value)
    : withUnitSign(
        formatNumber(value).replace('-', '−'),
        unit === 'deg' || unit === 'C' ? unit : sayUnit(unit),
      );

const word = (words: Readonly<Partial<Record<string, string>>>, value: string | number) =>
  words[value] ?? String(value);
const plain = (value: string | number) => String(value).replaceAll('-', ' ');
const lowerFirst = (text: string) => text.charAt(0).toLowerCase() + text.slice(1);

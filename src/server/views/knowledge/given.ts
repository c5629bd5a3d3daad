import { localDecimal } from '../../../language/numbers.js';
import { say, wordFor } from '../../../language/say.js';
import type { CaseInput } from '../../../rules/case/types.js';
import { caseObject } from '../../../rules/case/write-case.js';
import { sayTried } from '../../../rules/diagnosis/say-tried.js';
import type { RuleBook } from '../../../rules/knowledge/knowledge-base.js';
import {
  CHANGE_WORDS,
  joinWords,
  LEVEL_WORDS,
  ONSET_WORDS,
  PART_RESULT_WORDS,
  PART_WORDS,
  SCOPE_WORDS,
} from '../../../rules/words.js';
import { describeSetup } from '../setup-line.js';

/** What a case says, as terms with texts: setup, signs, place, beginning, changes, findings, measurements. */
export function viewGiven(
  input: CaseInput,
  book: RuleBook,
): { readonly term: string; readonly text: string }[] {
  const { observations, findings, partExchange, scope, onset, changed } = input;
  const signs = Object.entries(observations).map(
    ([id, level]) => `${book.symptoms.get(id)?.label ?? id} (${LEVEL_WORDS[level]})`,
  );
  const found = Object.entries(findings).map(([id, outcomes]) => {
    const check = book.checks.get(id);
    return `${check?.label ?? id}: ${joinWords(outcomes.map((one) => check?.outcomes[one]?.label ?? one))}`;
  });
  const exchanged = Object.entries(partExchange).map(([part, result]) =>
    say('worked.exchanged', {
      part: PART_WORDS[part as keyof typeof PART_WORDS],
      result: PART_RESULT_WORDS[result],
    }),
  );
  const rows: [string, string][] = [
    [say('worked.setup'), describeSetup(input.given)],
    [say('worked.before'), input.before === undefined ? '' : describeSetup(input.before)],
    [say('worked.seen'), signs.join('; ')],
    [say('worked.where'), joinWords(scope.map((one) => SCOPE_WORDS[one]))],
    [say('worked.since-when'), joinWords(onset.map((one) => ONSET_WORDS[one]))],
    [say('worked.changed'), joinWords(changed.map((one) => CHANGE_WORDS[one]))],
    [say('worked.looked-at'), [...found, ...exchanged].join('; ')],
    [say('worked.tried'), (input.tried ?? []).map((one) => sayTried(one, book)).join('; ')],
    [say('worked.measured'), sayMeasured(input)],
  ];
  return rows.filter(([, text]) => text !== '').map(([term, text]) => ({ term, text }));
}

/** "end breaks: count 41, rotor hours 240, norm per 1000 90". */
function sayMeasured(input: CaseInput): string {
  const { measurements } = caseObject(input);
  if (typeof measurements !== 'object' || measurements === null) return '';
  return Object.entries(measurements)
    .map(([name, value]) => `${plain(name)}: ${sayValue(value)}`)
    .join('; ');
}

function sayValue(value: unknown): string {
  if (Array.isArray(value)) return value.map((one) => localDecimal(String(one))).join(', ');
  if (typeof value !== 'object' || value === null) return localDecimal(String(value));
  return Object.entries(value)
    .map(([key, one]) =>
      typeof one === 'object' && one !== null && !Array.isArray(one)
        ? `${plain(key)} (${sayValue(one)})`
        : `${plain(key)} ${sayValue(one)}`,
    )
    .join(', ');
}

const plain = (id: string) => wordFor('measured', id) ?? id.replaceAll('-', ' ');

import { readCaseObject } from '../../rules/case/case-file.js';
import type { CaseInput, CaseVocabulary, GivenSetup } from '../../rules/case/types.js';
import { ApiError } from './errors.js';

/** Reads a case file. @throws ApiError 422 with every problem, field by field */
export function readApiCase(file: unknown, vocabulary: CaseVocabulary, at = ''): CaseInput {
  const reading = readCaseObject(file, vocabulary, { partial: true });
  if (reading.ok) return reading.case;
  throw new ApiError(
    422,
    'input',
    'This case cannot be used.',
    reading.problems.map((problem) => ({
      field: `${at}${problem.field === '' ? '(the whole)' : problem.field}`,
      value: problem.value,
      allowed: `${problem.message}${problem.allowed.length === 0 || problem.allowed.length > 20 ? '' : `; allowed: ${problem.allowed.join(', ')}`}`,
    })),
  );
}

/** Reads the setup of a case file. @throws ApiError as {@link readApiCase} */
export const readApiSetup = (setup: unknown, vocabulary: CaseVocabulary): GivenSetup =>
  readApiCase({ setup }, vocabulary).given;

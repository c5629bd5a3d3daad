import { say } from '../../language/say.js';
import {
  CHANGES,
  type Change,
  LEVELS,
  type Level,
  ONSETS,
  PART_RESULTS,
  PARTS,
  type Part,
  type PartResult,
  SCOPES,
} from '../knowledge/vocabulary.js';
import { readCaseText } from './case-text.js';
import { readMeasurements } from './read-measurements.js';
import { readSetup } from './read-setup.js';
import { readTried } from './read-tried.js';
import { isLeftOut, type Path, type Reading, readMap, readWord, readWords, refuse, warn } from './reading.js';
import type { CaseReading, CaseVocabulary, GivenSetup } from './types.js';

/** Keys at the top of a case file. */
export const CASE_KEYS = [
  'title',
  'note',
  'setup',
  'before',
  'observations',
  'scope',
  'onset',
  'changed',
  'findings',
  'tried',
  'measurements',
] as const;

/** The check whose finding is written `{part: result}`. */
const PART_EXCHANGE = 'part-exchange';
const MOST_TITLE = 200;
const MOST_NOTE = 5000;

export interface CaseOptions {
  /** Accept a case without fibre and count; they are then assumed like everything else. Default: they must be there. */
  readonly partial?: boolean;
}

/**
 * Reads a case file, YAML or JSON.
 *
 * @param text the file's text, at most 60 000 characters
 * @param vocabulary the ids a case may use
 * @returns the case with its warnings, or every problem found, with field, value, what is allowed and line; never throws
 */
export function readCase(text: string, vocabulary: CaseVocabulary, options: CaseOptions = {}): CaseReading {
  const result = readCaseText(text);
  return result.ok ? interpret(result.data, vocabulary, result.lineOf, options) : result;
}

/** Reads a case from data already parsed (a form, a JSON body); as {@link readCase}, without lines. */
export function readCaseObject(
  value: unknown,
  vocabulary: CaseVocabulary,
  options: CaseOptions = {},
): CaseReading {
  return interpret(value, vocabulary, () => undefined, options);
}

function interpret(
  value: unknown,
  vocabulary: CaseVocabulary,
  lineOf: (path: Path) => number | undefined,
  options: CaseOptions,
): CaseReading {
  const reading: Reading = { vocabulary, problems: [], warnings: [], lineOf };
  const top = readMap(reading, [], value ?? {}, CASE_KEYS);
  if (top === undefined) return { ok: false, problems: reading.problems };

  const title = readText(reading, ['title'], top.get('title'), MOST_TITLE);
  const note = readText(reading, ['note'], top.get('note'), MOST_NOTE);
  const given = readSetup(reading, ['setup'], top.get('setup'), { required: options.partial !== true });
  const countTex = given.values.countTex;
  const before = top.has('before')
    ? readSetup(reading, ['before'], top.get('before'), {
        required: false,
        ...(countTex === undefined ? {} : { countTex }),
      })
    : undefined;
  const observations = readObservations(reading, ['observations'], top.get('observations'));
  const scope = top.has('scope') ? readWords(reading, ['scope'], top.get('scope'), SCOPES) : [];
  const onset = top.has('onset') ? readWords(reading, ['onset'], top.get('onset'), ONSETS) : [];
  const changed = top.has('changed') ? readChanges(reading, ['changed'], top.get('changed')) : [];
  const { findings, partExchange } = readFindings(reading, ['findings'], top.get('findings'));
  const tried = readTried(reading, ['tried'], top.get('tried'));
  const measurements = readMeasurements(reading, ['measurements'], top.get('measurements'), countTex);

  if (reading.problems.length > 0) return { ok: false, problems: reading.problems };
  if (
    Object.values(observations).every((level) => level === 'absent') &&
    measurements.endBreaks === undefined &&
    Object.keys(measurements.values).length === 0
  ) {
    warn(reading, ['observations'], say('case-file.no-symptom'));
  }
  return {
    ok: true,
    case: {
      ...(title === undefined ? {} : { title }),
      ...(note === undefined ? {} : { note }),
      given,
      before: before === undefined || isEmpty(before) ? undefined : before,
      observations,
      scope,
      onset,
      changed,
      findings,
      partExchange,
      ...(tried.length === 0 ? {} : { tried }),
      measurements,
      warnings: reading.warnings,
    },
  };
}

const isEmpty = (given: GivenSetup) => Object.keys(given.values).length === 0 && given.endUse === undefined;

function readText(reading: Reading, path: Path, value: unknown, most: number): string | undefined {
  if (isLeftOut(value)) return undefined;
  if (typeof value !== 'string' && typeof value !== 'number') {
    return refuse(reading, path, value, say('case-file.text'), [
      say('case-file.most-characters', { n: most }),
    ]);
  }
  const text = String(value).trim();
  return text.length > most
    ? refuse(reading, path, value, say('case-file.too-long', { n: text.length }), [
        say('case-file.most-characters', { n: most }),
      ])
    : text;
}

function readObservations(reading: Reading, path: Path, value: unknown): Record<string, Level> {
  const observations: Record<string, Level> = {};
  if (isLeftOut(value)) return observations;
  for (const [symptom, one] of readMap(reading, path, value, reading.vocabulary.symptoms) ?? []) {
    const level = readWord(reading, [...path, symptom], one, LEVELS);
    if (level !== undefined) observations[symptom] = level;
  }
  return observations;
}

function readChanges(reading: Reading, path: Path, value: unknown): Change[] {
  const changes = readWords(reading, path, value, CHANGES);
  if (changes.includes('none') && changes.length > 1) {
    refuse(reading, path, value, say('case-file.none-alone'), [say('case-file.none-or-changes')]);
  }
  return changes;
}

function readFindings(
  reading: Reading,
  path: Path,
  value: unknown,
): {
  readonly findings: Record<string, readonly string[]>;
  readonly partExchange: Partial<Record<Part, PartResult>>;
} {
  const findings: Record<string, readonly string[]> = {};
  const partExchange: Partial<Record<Part, PartResult>> = {};
  if (isLeftOut(value)) return { findings, partExchange };
  const checks = new Set([...reading.vocabulary.checks.keys(), PART_EXCHANGE]);
  for (const [check, one] of readMap(reading, path, value, checks) ?? []) {
    const at = [...path, check];
    if (check === PART_EXCHANGE) {
      for (const [part, result] of readMap(reading, at, one, PARTS) ?? []) {
        const word = readWord(reading, [...at, part], result, PART_RESULTS);
        if (word !== undefined) partExchange[part as Part] = word;
      }
      continue;
    }
    const outcomes = readWords(reading, at, one, [...(reading.vocabulary.checks.get(check) ?? [])]);
    if (outcomes.length > 0) findings[check] = outcomes;
  }
  return { findings, partExchange };
}

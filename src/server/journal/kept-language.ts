import type { KeptDiagnosis } from '../../journal/index.js';
import { LANGUAGES, type Language, OFFERED, SOURCE_LANGUAGE } from '../../language/languages.js';
import { say } from '../../language/say.js';
import { inLanguage, language, languageInfo } from '../../language/scope.js';
import { FAMILIES } from '../../rules/knowledge/vocabulary.js';
import { asRanking } from './kept-case.js';

/**
 * The language in which a kept diagnosis speaks, told by the names of the families of its causes. It should be English;
 * some that were made again by readers of another language were kept in theirs. Undefined: it holds no sentences.
 */
export function languageOfKept(kept: KeptDiagnosis): Language | undefined {
  const ranking = asRanking(kept);
  if (ranking === undefined) return undefined;
  const speaks = (one: Language) =>
    inLanguage(one, () => ranking.causes.every((cause) => FAMILIES[cause.family] === cause.familyLabel));
  const languages: readonly Language[] = [SOURCE_LANGUAGE, ...OFFERED];
  return languages.find(speaks) ?? SOURCE_LANGUAGE;
}

/** Says in which language a diagnosis was made, where that is not the reader's; else empty. */
export function sayKeptLanguage(kept: KeptDiagnosis): string {
  const made = languageOfKept(kept);
  if (made === undefined || made === language()) return '';
  const names = new Intl.DisplayNames([languageInfo().tag], { type: 'language' });
  return say('kept.made-in', { language: names.of(made) ?? LANGUAGES[made].name });
}

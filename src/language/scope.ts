import { AsyncLocalStorage } from 'node:async_hooks';
import { LANGUAGES, type Language, type LanguageInfo, SOURCE_LANGUAGE } from './languages.js';

const scope = new AsyncLocalStorage<Language>();

/**
 * Does something in a language: every text made in the course of it, also after waiting, is in that language. What
 * keeps texts between requests must keep them by language.
 */
export function inLanguage<Result>(language: Language, work: () => Result): Result {
  return scope.run(language, work);
}

/** The language texts are made in just now; English outside of {@link inLanguage}. */
export const language = (): Language => scope.getStore() ?? SOURCE_LANGUAGE;

/** What there is to know of the language of the moment. */
export const languageInfo = (): LanguageInfo => LANGUAGES[language()];

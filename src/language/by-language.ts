import type { Language } from './languages.js';
import { language } from './scope.js';

/**
 * Something made of texts that is costly to make: made once for each language, when it is first asked for in it.
 * @returns what was made for the language of the moment
 */
export function byLanguage<Made>(make: () => Made): () => Made {
  const kept = new Map<Language, Made>();
  return () => {
    const now = language();
    if (!kept.has(now)) kept.set(now, make());
    return kept.get(now) as Made;
  };
}

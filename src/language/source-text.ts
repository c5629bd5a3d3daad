import { markForeign } from './foreign.js';
import { SOURCE_LANGUAGE } from './languages.js';
import { language } from './scope.js';

/** A text that there is in English only: marked as such in a page of another language. */
export const sourceText = (text: string): string =>
  language() === SOURCE_LANGUAGE ? text : markForeign(text);

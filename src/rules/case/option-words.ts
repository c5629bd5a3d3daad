import { isMessageKey, sayLoose } from '../../language/say.js';

const wordOf = (area: string, id: string): string => {
  const key = `${area}.${id}`;
  return isMessageKey(key) ? sayLoose(key) : id.replace(/-/g, ' ');
};

/** A word that a field of the setup may hold, for reading: `2-groove`, `semi-dull`. */
export const optionWord = (id: string): string => wordOf('option', id);
/** A fibre by its id; one that only a mill's own knowledge has stands for itself. */
export const fibreWord = (id: string): string => wordOf('fibre', id);
/** An end use by its id, in few words. */
export const endUseWord = (id: string): string => wordOf('end-use', id);

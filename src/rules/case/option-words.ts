import { wordFor } from '../../language/say.js';

/** A word that a field of the setup may hold, for reading: `2-groove`, `semi-dull`. */
export const optionWord = (id: string): string => wordFor('option', id) ?? plain(id);
/** A fibre by its id; one that only a mill's own knowledge has stands for itself. */
export const fibreWord = (id: string): string => wordFor('fibre', id) ?? plain(id);
/** An end use by its id, in few words. */
export const endUseWord = (id: string): string => wordFor('end-use', id) ?? plain(id);

const plain = (id: string) => id.replace(/-/g, ' ');

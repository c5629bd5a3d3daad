import { KnowledgeError } from './knowledge/errors.js';
import { openReader, readOne } from './knowledge/load.js';
import { defaultKnowledgeFolder } from './knowledge/load-knowledge.js';
import { type Place, type Places, placesSchema } from './knowledge/place-schema.js';

/** A place of the drawing. */
export interface PlaceOfCause {
  readonly place: Place;
  readonly label: string;
}

const kept = new Map<string, Places>();

/**
 * Reads `places.yaml` below the knowledge-base folder, once for each folder.
 * @throws KnowledgeError with file, line and field of every problem
 */
export function loadPlaces(root: string = defaultKnowledgeFolder()): Places {
  let places = kept.get(root);
  if (places === undefined) {
    const reader = openReader(root);
    places = readOne(reader, 'places.yaml', placesSchema);
    if (places === undefined) throw new KnowledgeError(reader.problems);
    kept.set(root, places);
  }
  return places;
}

/** Where on the drawing a cause acts; undefined for one that acts nowhere in particular ("no real fault"). */
export function causePlace(cause: string, places: Places = loadPlaces()): PlaceOfCause | undefined {
  for (const [place, { label, causes }] of Object.entries(places))
    if (causes?.includes(cause) === true) return { place: place as Place, label };
  return undefined;
}

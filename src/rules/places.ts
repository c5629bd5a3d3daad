import { KnowledgeError } from './knowledge/errors.js';
import type { RuleBook } from './knowledge/knowledge-base.js';
import type { KnowledgeFiles } from './knowledge/knowledge-files.js';
import { openReader, readOne } from './knowledge/load.js';
import { defaultKnowledgeFolder } from './knowledge/load-knowledge.js';
import { type Place, type Places, placesSchema } from './knowledge/place-schema.js';

/** A place of the drawing. */
export interface PlaceOfCause {
  readonly place: Place;
  readonly label: string;
}

let kept: Places | undefined;

/** The one supplied, read once. */
function shipped(): Places {
  kept ??= readPlaces(defaultKnowledgeFolder());
  return kept;
}

/**
 * Reads `places.yaml` of a knowledge base; the one supplied is read once.
 * @param book when given, the causes named must be in it
 * @throws KnowledgeError with file, line and field of every problem
 */
export function loadPlaces(root?: KnowledgeFiles, book?: RuleBook): Places {
  const places = root === undefined ? shipped() : readPlaces(root);
  const problems = Object.entries(places).flatMap(([place, { causes = [] }]) =>
    causes
      .filter((cause) => book !== undefined && !book.causes.has(cause))
      .map((cause) => ({
        file: 'places.yaml',
        line: undefined,
        field: `${place}.causes`,
        message: `there is no cause "${cause}"`,
      })),
  );
  if (problems.length > 0) throw new KnowledgeError(problems);
  return places;
}

function readPlaces(root: KnowledgeFiles): Places {
  const reader = openReader(root);
  const places = readOne(reader, 'places.yaml', placesSchema);
  if (places === undefined) throw new KnowledgeError(reader.problems);
  return places;
}

/** Where on the drawing a cause acts; undefined for one that acts nowhere in particular ("no real fault"). */
export function causePlace(cause: string, places: Places = loadPlaces()): PlaceOfCause | undefined {
  for (const [place, { label, causes }] of Object.entries(places))
    if (causes?.includes(cause) === true) return { place: place as Place, label };
  return undefined;
}

import type { CauseResult } from '../../../rules/index.js';
import type { Places } from '../../../rules/knowledge/place-schema.js';
import { causePlace } from '../../../rules/places.js';
import type { DrawnMark } from './draw-position.js';

/** Causes less likely than this are not marked. */
const LEAST = 0.05;

/**
 * Marks for the likeliest causes of a ranking at the places where they act.
 *
 * @param most how many at most
 * @param places of the knowledge base; none, no marks
 */
export function causeMarks(
  causes: readonly Pick<CauseResult, 'id' | 'label' | 'probability'>[],
  most: number,
  places: Places | undefined,
): DrawnMark[] {
  if (places === undefined) return [];
  return causes
    .filter((cause) => cause.probability >= LEAST)
    .flatMap((cause) => {
      const place = causePlace(cause.id, places);
      if (place === undefined) return [];
      const percent = `${Math.round(100 * cause.probability)} %`;
      return [{ place: place.place, placeLabel: place.label, label: `${cause.label} (${percent})` }];
    })
    .slice(0, most);
}

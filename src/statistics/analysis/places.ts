import { adjustPValues } from '../adjustment.js';
import { measureDispersion } from '../dispersion.js';
import type { NamedCount } from '../many-rates.js';
import { screenPositions } from '../positions.js';
import { computeRate } from '../rates.js';
import { expectNext } from './next-count.js';
import { describeSection, scanByPermutation } from './permuted-scan.js';
import type { Prepared } from './prepare.js';
import type { BadSection, FramePlaces } from './types.js';

/** Share of flagged positions that may be innocent, over all frames of the table together. */
export const FALSE_DISCOVERY = 0.1;
/** Chance of a false alarm of the neighbour scans of all frames together. */
export const SECTION_ALPHA = 0.05;

/** Where the breaks are, with the chances of the two questions asked. */
export interface Places {
  readonly frames: readonly FramePlaces[];
  /** Chance of so extreme a position anywhere (Simes), 1 when no frame has positions. */
  readonly positionP: number;
  /** Chance of so strong a run of neighbours anywhere, 1 when none was found. */
  readonly sectionP: number;
}

/**
 * Screens every frame for single positions and runs of neighbours. The false discoveries are held over all frames together
 * (Benjamini & Hochberg over all positions), the false alarms of the scans by sharing the 5 % between the frames. Frames with
 * fewer than 4 positions or no break are left out.
 */
export function findPlaces(prepared: Prepared, seed?: number): Places {
  const usable = prepared.frames.filter(
    (frame) => frame.positions.length >= 4 && frame.positions.some((position) => position.count > 0),
  );
  if (usable.length === 0) return { frames: [], positionP: 1, sectionP: 1 };
  const alpha = SECTION_ALPHA / usable.length;
  const screens = usable.map(({ positions }) => screenPositions(positions));
  const adjusted = adjustPValues(
    screens.flatMap((screen) => screen.positions.map((one) => one.pExact)),
    'bh',
  );
  let offset = 0;
  const frames = usable.map(({ frame, positions }, index): FramePlaces => {
    const screen = screens[index] as (typeof screens)[number];
    const own = screen.positions.map((position, i) => {
      const adjustedP = adjusted[offset + i] ?? 1;
      return { ...position, adjustedP, rogue: adjustedP <= FALSE_DISCOVERY };
    });
    offset += own.length;
    const rogue = (i: number) => own[i]?.rogue === true;
    const single = own.flatMap((_, i) => (rogue(i) && !rogue(i - 1) && !rogue(i + 1) ? [i] : []));
    const sections = scanByPermutation(positions, {
      alpha,
      // Enough repetitions that the smallest possible p lies well below alpha.
      replications: Math.max(999, Math.ceil(5 / alpha)),
      single: new Set(single),
      ...(seed === undefined ? {} : { seed }),
    }).map((section) => extend(section, positions, rogue));
    const inSection = new Set(sections.flatMap((section) => section.ids));
    return {
      frame,
      positions: own,
      flagged: own
        .filter((position) => position.rogue && !inSection.has(position.id))
        .sort((a, b) => b.shrunkenPer1000 - a.shrunkenPer1000)
        .map((position) => position.id),
      sections,
      nextCount: Object.fromEntries(
        own
          .filter((position) => position.rogue)
          .map((position) => [
            position.id,
            expectNext(position.count, position.count / position.ratioToRest, position.adjustedP),
          ]),
      ),
      dispersion: measureDispersion(positions),
      judgedAgainstSpread: screen.judgedAgainstSpread,
      rate: computeRate({
        count: positions.reduce((sum, one) => sum + one.count, 0),
        rotorHours: positions.reduce((sum, one) => sum + one.rotorHours, 0),
      }),
    };
  });
  const sectionP = Math.min(
    1,
    ...frames.flatMap((frame) => frame.sections.map((section) => section.p * usable.length)),
  );
  return { frames, positionP: Math.min(1, ...adjusted), sectionP };
}

/** Takes bad positions that adjoin a section (at most one between) into it; they were left aside while it was looked for. */
function extend(
  section: BadSection,
  positions: readonly NamedCount[],
  rogue: (index: number) => boolean,
): BadSection {
  let first = positions.findIndex((position) => position.id === section.first);
  let last = first + section.ids.length - 1;
  const before = first;
  const after = last;
  while (rogue(first - 1) || rogue(first - 2)) first -= rogue(first - 1) ? 1 : 2;
  while (rogue(last + 1) || rogue(last + 2)) last += rogue(last + 1) ? 1 : 2;
  if (first === before && last === after) return section;
  const members = Array.from({ length: last - first + 1 }, (_, i) => first + i);
  return describeSection(members, positions, section.p);
}

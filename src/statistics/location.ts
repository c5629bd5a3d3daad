import { requireFraction } from './checks.js';
import { binomialAtLeast, binomialPmf } from './distributions.js';
import { pool } from './exposure.js';
import type { NamedCount } from './many-rates.js';
import { type NeighbourRun, type NeighbourScan, type ScanOptions, scanNeighbours } from './neighbour-scan.js';
import { type PositionScreen, type ScreenOptions, screenPositions } from './positions.js';
import { compareWithNorm, type NormComparison } from './rate-norm.js';
import { sayNumber } from './words.js';

/** Where the breaks are, ready to be used as the diagnosis's scope. */
export interface Location {
  /**
   * `section`: a run of neighbours; `position`: single positions; `frame`: evenly spread and above the norm; `none`: evenly
   * spread and not above it. Left undefined when nothing stands out and no norm was given.
   */
  readonly scope: 'position' | 'section' | 'frame' | 'none' | undefined;
  /** Flagged positions that do not belong to a flagged section. */
  readonly positionIds: readonly string[];
  readonly sections: readonly NeighbourRun[];
  /** Whether the positions not flagged are above the norm as well; undefined without a norm. */
  readonly restAboveNorm: boolean | undefined;
  readonly screen: PositionScreen;
  readonly scan: NeighbourScan;
  /** All positions against the norm, if one was given. */
  readonly frame: NormComparison | undefined;
  readonly words: string;
}

/** What {@link locateBreaks} may be told. */
export interface LocationOptions extends ScreenOptions, ScanOptions {
  readonly normPer1000?: number;
}

/**
 * A run counts as a section only if it is still raised, at this mid-p, with its worst position left out: otherwise one bad
 * position would turn its neighbours into a section fault. Judgement.
 */
const SECTION_PROOF = 0.01;

/** Screens single positions, scans runs of neighbours, holds the rest against the norm, and says where the trouble sits. */
export function locateBreaks(positions: readonly NamedCount[], options: LocationOptions = {}): Location {
  const alpha = requireFraction('alpha', options.alpha ?? 0.05);
  const screen = screenPositions(positions, options);
  const scan = scanNeighbours(positions, options);
  const sections = scan.clusters.filter((run) => isMoreThanOnePosition(run, positions));
  const inSection = new Set(sections.flatMap((run) => run.ids));
  const positionIds = screen.rogues.map((rogue) => rogue.id).filter((id) => !inSection.has(id));
  const flagged = new Set([...inSection, ...positionIds]);
  const norm = options.normPer1000;
  const rest = positions.filter((position) => !flagged.has(position.id));
  const frame = norm === undefined ? undefined : compareWithNorm(pool(positions), norm, alpha);
  const restAboveNorm =
    norm === undefined || rest.length === 0
      ? undefined
      : compareWithNorm(pool(rest), norm, alpha).verdict === 'above';
  const scope =
    sections.length > 0
      ? 'section'
      : positionIds.length > 0
        ? 'position'
        : frame === undefined
          ? undefined
          : frame.verdict === 'above'
            ? 'frame'
            : 'none';
  return {
    scope,
    positionIds,
    sections,
    restAboveNorm,
    screen,
    scan,
    frame,
    words: describe(scope, positionIds, sections, restAboveNorm),
  };
}

function isMoreThanOnePosition(run: NeighbourRun, positions: readonly NamedCount[]): boolean {
  const inside = new Set(run.ids);
  const members = positions
    .filter((position) => inside.has(position.id))
    .sort((a, b) => b.count / b.rotorHours - a.count / a.rotorHours);
  const others = pool(members.slice(1));
  const outside = pool(positions.filter((position) => !inside.has(position.id)));
  const total = others.count + outside.count;
  const share = others.rotorHours / (others.rotorHours + outside.rotorHours);
  const mid = binomialAtLeast(others.count, total, share) - 0.5 * binomialPmf(others.count, total, share);
  return mid <= SECTION_PROOF;
}

function describe(
  scope: Location['scope'],
  positionIds: readonly string[],
  sections: readonly NeighbourRun[],
  restAboveNorm: boolean | undefined,
): string {
  const parts: string[] = [];
  for (const run of sections) {
    parts.push(
      `Positions ${run.ids[0]} to ${run.ids[run.ids.length - 1]} break together, ${sayNumber(run.ratioToRest)} times as often as the rest: look at what they share.`,
    );
  }
  if (positionIds.length > 0) {
    const many = positionIds.length > 1;
    parts.push(
      `${many ? 'Positions' : 'Position'} ${positionIds.join(', ')} ${many ? 'break' : 'breaks'} more than the rest by more than chance.`,
    );
  }
  if (scope === 'frame') parts.push('The breaks are spread evenly and the whole frame is above its norm.');
  if (scope === 'none')
    parts.push(
      'No position or run of neighbours stands out, and the frame is not shown to be above its norm.',
    );
  if (scope === undefined) {
    parts.push(
      'No position or run of neighbours stands out; whether the whole frame is raised needs a norm.',
    );
  }
  if (restAboveNorm && scope !== 'frame') parts.push('The other positions are above the norm as well.');
  return parts.join(' ');
}

import type { GivenSetup } from '../../rules/case/types.js';
import { recordSetup, type SetupInput } from '../mill/setups.js';
import type { Journal } from '../store.js';
import type { CaseFile, DemoEngine } from './engine.js';
import type { PlannedCase } from './plan-cases.js';
import { instantOn, lotOn, type PlannedFrame, type PlannedMill, withoutHours } from './plan-mill.js';
import { PEOPLE } from './words.js';

interface Moment {
  readonly day: number;
  /** The setup from then on; undefined: as it was. */
  readonly setup?: CaseFile;
  readonly changes?: readonly string[];
  readonly renewed?: SetupInput['renewed'];
  readonly note: string;
}

/** Changes that a setup entry can name; `none` and `lot` are not among them, the lot shows by itself. */
const NAMED = [
  'cleaning-round',
  'overhaul',
  'piecer',
  'climate',
  'winding',
  'opening-roller',
  'nozzle-renewed',
];

/** Writes the setup history of a frame: the start, new lots, renewed nozzles, and the changes behind cases and back. */
export async function writeSetups(
  journal: Journal,
  engine: DemoEngine,
  mill: PlannedMill,
  frame: PlannedFrame,
  cases: readonly PlannedCase[],
): Promise<number> {
  const card = withoutHours(frame.setup);
  const moments: Moment[] = [
    {
      day: 0,
      setup: card,
      renewed: (['nozzle', 'tube', 'rotor'] as const).map((part) => ({ part, hours: frame.hoursAtStart })),
      note: 'As on the frame card.',
    },
    ...mill.lots
      .filter((lot) => lot.from > 0 && lot.yarn === frame.yarnId)
      .map((lot) => ({ day: lot.from, note: `${lot.name} creeled in.` })),
    ...(frame.renewalDay === undefined
      ? []
      : [
          {
            day: frame.renewalDay,
            renewed: [{ part: 'nozzle' as const }],
            note: 'A new set of nozzles.',
          },
        ]),
    ...cases
      .filter((one) => one.frame === frame && (one.setup !== undefined || one.changed.length > 0))
      .flatMap((one): Moment[] => [
        {
          day: Math.max(0.01, one.day - 0.5),
          ...(one.setup === undefined ? {} : { setup: one.setup }),
          changes: one.changed.filter((change) => NAMED.includes(change)),
          note: 'Changed during the shift.',
        },
        ...(one.setup === undefined
          ? []
          : [
              {
                day: Math.min(mill.days - 0.01, one.day + one.fixDays),
                setup: card,
                note: 'Back to the frame card.',
              },
            ]),
      ]),
  ].sort((a, b) => a.day - b.day);
  let given: GivenSetup | undefined;
  let last = '';
  let written = 0;
  for (const [n, moment] of moments.entries()) {
    if (moment.setup !== undefined) given = engine.readSetup(moment.setup) ?? given;
    if (given === undefined) continue;
    const lot = lotOn(mill, frame, moment.day)?.id ?? null;
    // An entry that says nothing new would leave the reader asking what was changed.
    const standing = JSON.stringify([given, lot]);
    if (standing === last && (moment.changes ?? []).length === 0 && moment.renewed === undefined) continue;
    last = standing;
    await recordSetup(
      journal,
      {
        frame: frame.id,
        yarn: frame.yarnId,
        lot,
        given,
        changes: (moment.changes ?? []) as NonNullable<SetupInput['changes']>,
        renewed: moment.renewed ?? [],
        note: moment.note,
      },
      { who: PEOPLE[n % PEOPLE.length] ?? PEOPLE[0], at: instantOn(mill, moment.day) },
    );
    written++;
  }
  return written;
}

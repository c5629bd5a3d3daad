import { randomUUID } from 'node:crypto';
import { readSetting, writeSetting } from '../../../src/journal/clients/settings.js';
import { addToken, findClient } from '../../../src/journal/clients/tokens.js';
import { drawStripes } from '../../../src/journal/demo/stripe-picture.js';
import {
  addPhoto,
  checkJournal,
  countBreaksByHour,
  countJournal,
  findCase,
  findComplaint,
  findPhoto,
  type Journal,
  listSetups,
  logComplaint,
  openCase,
  openJournal,
  recordBreaks,
  recordComplaintStep,
  recordRuns,
  recordSetup,
  recordStep,
} from '../../../src/journal/index.js';
import { addSmallMill, diagnosis, given } from '../../journal/fixtures.js';
import { type Acknowledged, type KillKind, placeOf } from './kind.js';

type Write = (journal: Journal, n: string, say: (what: Acknowledged) => void) => Promise<void>;
type Find = (journal: Journal, said: Acknowledged) => Promise<string | undefined>;

const who = { who: 'writer' };

/** One sort of thing that is written: how, how it is found again, and what else must hold. */
interface Part {
  readonly write: Write;
  readonly find: Find;
  also?(journal: Journal): Promise<string[]>;
}

/** A kind that writes things of these sorts in turn into a small mill. */
function stepwise(parts: Readonly<Record<string, Part>>): KillKind {
  return {
    async prepare(place) {
      const journal = await openJournal(placeOf(place));
      await addSmallMill(journal);
      await journal.close();
    },
    async write(place, round, say) {
      const journal = await openJournal(placeOf(place));
      for (let n = 0; ; n++)
        for (const [part, { write }] of Object.entries(parts))
          await write(journal, `${round}-${n}`, (what) => say({ part, ...what }));
    },
    async check(place, said) {
      const journal = await openJournal(placeOf(place));
      try {
        const losses: string[] = [];
        for (const one of said) {
          const loss = await parts[String(one.part)]
            ?.find(journal, one)
            .catch((error: unknown) => String(error));
          if (loss !== undefined) losses.push(loss);
        }
        const { findings } = await checkJournal(journal, 100_000);
        losses.push(...findings);
        for (const { also } of Object.values(parts)) losses.push(...((await also?.(journal)) ?? []));
        return losses;
      } finally {
        await journal.close();
      }
    },
  };
}

const text = (value: unknown) => String(value);

const cases: Part = {
  write: async (journal, n, say) => {
    let record = await openCase(journal, { title: `Case ${n}`, diagnosis: diagnosis(0.3, 0.5, 0.2) }, who);
    say({ id: record.id, version: record.version });
    for (const minutes of [3, 4, 5]) {
      record = await recordStep(
        journal,
        { id: record.id, seen: record.version },
        { step: 'check-made', check: 'nozzle-look', outcomes: ['polished'], minutes },
        who,
      );
      say({ id: record.id, version: record.version });
    }
  },
  find: async (journal, { id, version }) =>
    (await findCase(journal, text(id))).version < Number(version)
      ? `${id} has lost version ${version}`
      : undefined,
};

const complaintsAndPhotos: Part = {
  write: async (journal, n, say) => {
    const record = await logComplaint(
      journal,
      { customer: `Knitter ${n}`, fabricFault: 'barré', lot: 'lot-1' },
      who,
    );
    say({ complaint: record.id, version: record.version });
    const photo = await addPhoto(journal, record.id, { bytes: drawStripes(7), caption: n }, who);
    say({ photo: photo.id });
    const now = await findComplaint(journal, record.id);
    const step = await recordComplaintStep(
      journal,
      { id: record.id, seen: now.version },
      { step: 'containment', text: 'Lot stopped' },
      who,
    );
    say({ complaint: record.id, version: step.version });
  },
  find: async (journal, said) => {
    if ('photo' in said)
      return (await findPhoto(journal, text(said.photo))).bytes.length > 0 ? undefined : 'a photo is empty';
    const { version } = await findComplaint(journal, text(said.complaint));
    return version < Number(said.version) ? `${said.complaint} has lost version ${said.version}` : undefined;
  },
};

const WIDE = { from: '2025-01-01T00:00:00Z', until: '2035-01-01T00:00:00Z' };

const machineData: Part = {
  write: async (journal, n, say) => {
    const start = Date.now() - 1e9 + Math.floor(Math.random() * 9e8);
    const events = Array.from({ length: 400 }, (_, k) => ({
      frame: 'frame-1',
      position: 1 + (k % 8),
      at: new Date(start + k * 100).toISOString(),
    }));
    const breaks = await recordBreaks(journal, `breaks-${n}`, events, who);
    say({ batch: breaks.batch, kind: 'breaks' });
    const hour = Math.floor(start / 3_600_000) * 3_600_000;
    const runs = await recordRuns(
      journal,
      `runs-${n}`,
      [
        {
          frame: 'frame-2',
          from: new Date(hour).toISOString(),
          until: new Date(hour + 3_600_000).toISOString(),
          rotorHours: 8,
        },
      ],
      who,
    );
    say({ batch: runs.batch, kind: 'runs' });
  },
  find: async (journal, { batch, kind }) => {
    if (kind !== 'breaks') return undefined;
    // A batch that was acknowledged is known: sent again with other content it is refused.
    const other = [{ frame: 'frame-1', position: 1, at: '2025-06-01T00:00:00Z' }];
    const known = await recordBreaks(journal, text(batch), other, who).then(
      () => false,
      () => true,
    );
    return known ? undefined : `${batch} is gone`;
  },
  also: async (journal) => {
    const { rows } = await countJournal(journal);
    const hours = await countBreaksByHour(journal, 'frame-1', WIDE);
    const summed = hours.reduce((sum, hour) => sum + hour.breaks, 0);
    return summed === rows.break_events ? [] : [`sums say ${summed} breaks, there are ${rows.break_events}`];
  },
};

const settings: Part = {
  write: async (journal, n, say) => {
    const at = new Date().toISOString();
    const setup = await recordSetup(
      journal,
      { frame: 'frame-1', yarn: 'weft-20', lot: 'lot-1', given: given({}), note: n },
      { who: 'writer', at },
    );
    say({ setup: setup.id });
    await writeSetting(journal, 'use-learned-rates', Number(n.split('-')[1]) % 2 === 0, who);
    say({ setting: true });
    const { secret } = await addToken(journal, `client ${n} ${randomUUID()}`);
    say({ secret });
  },
  find: async (journal, said) => {
    if ('setting' in said)
      return (await readSetting(journal, 'use-learned-rates')) === undefined
        ? 'the setting is gone'
        : undefined;
    if ('secret' in said)
      return (await findClient(journal, text(said.secret))) === undefined ? 'a token is gone' : undefined;
    return (await listSetups(journal, 'frame-1')).some((one) => one.id === said.setup)
      ? undefined
      : `${said.setup} is gone`;
  },
};

/** Kinds of write one after another. */
export const STEPWISE: Readonly<Record<string, KillKind>> = {
  cases: stepwise({ cases }),
  'complaints and photos': stepwise({ complaintsAndPhotos }),
  'machine data': stepwise({ machineData }),
  'setups, settings, tokens': stepwise({ settings }),
};

/** All of them in turn, for a short test. */
export const everything = stepwise({ cases, complaintsAndPhotos, machineData, settings });

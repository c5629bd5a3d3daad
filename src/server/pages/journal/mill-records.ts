import { type Context, Hono } from 'hono';
import {
  addFrame,
  addLot,
  addYarn,
  type By,
  changeFrame,
  changeLot,
  changeYarn,
  type FrameRecord,
  findFrame,
  findLot,
  findYarn,
  type Journal,
  type LotRecord,
  type StaleError,
  type YarnRecord,
} from '../../../journal/index.js';
import type { FormField, RecordPage } from '../../../templates/journal-models.js';
import {
  atDesk,
  byFrom,
  type Desk,
  newKey,
  pathPart,
  readSent,
  rememberName,
  viewHead,
  viewStale,
  writeSent,
} from '../../journal/desk.js';
import { loadNames, type Names } from '../../journal/names.js';
import type { Site } from '../../site.js';
import {
  type Fields,
  type FormProblem,
  type FormReader,
  readTyped,
  startFields,
  type Typed,
  viewForm,
} from '../../views/journal/form.js';
import { sayMoment } from '../../views/journal/moments.js';

/** A kind of record that is added and changed with a form. */
interface Kind<R extends { readonly id: string; readonly name: string; readonly version: number }> {
  readonly path: 'frames' | 'yarns' | 'lots';
  readonly word: string;
  readonly hint: string;
  find(desk: Desk, id: string): Promise<R>;
  fields(make: Fields, names: Names, old: R | undefined): FormField[];
  /** The record as it is typed. */
  read(reader: FormReader, id: string, old: R | undefined): unknown;
  add(journal: Journal, record: never, by: By): Promise<{ readonly id: string }>;
  change(journal: Journal, seen: number, record: never, by: By): Promise<{ readonly id: string }>;
  /** Where to go afterwards. */
  after(id: string): string;
}

const plain = (value: unknown) => (value === null || value === undefined ? '' : String(value));
const retired = (make: Fields, old: { readonly retired: boolean } | undefined) =>
  old === undefined
    ? []
    : [
        make.checkboxes('retired', 'Still in use?', [['yes', 'No longer in use']], {
          chosen: old.retired ? ['yes'] : [],
        }),
      ];

/** Sections written one a line: "Left side 1-120". */
const SECTION = /^(.+?)[\s,:]+(\d{1,4})\s*[-–]\s*(\d{1,4})$/;

const frames: Kind<FrameRecord> = {
  path: 'frames',
  word: 'frame',
  hint: 'Its setup is recorded afterwards, on the page of the frame.',
  find: ({ journal }, id) => findFrame(journal, id),
  fields: (make, _, old) => [
    make.text('name', 'Name', { value: plain(old?.name), hint: 'As people call it: Frame 7.' }),
    make.text('place', 'Where it stands', { value: plain(old?.place) }),
    make.number('positions', 'Positions', { value: plain(old?.positions) }),
    make.area('sections', 'Sections', {
      value: old?.sections.map((one) => `${one.name} ${one.first}-${one.last}`).join('\n') ?? '',
      hint: 'Neighbours that share a duct, a belt or a service zone, one a line: Left side 1-120.',
    }),
    make.area('note', 'Note', { value: plain(old?.note) }),
    ...retired(make, old),
  ],
  read: (reader, id) => {
    const sections = reader
      .text('sections')
      .split('\n')
      .map((line) => line.trim())
      .filter((line) => line !== '')
      .map((line) => {
        const match = SECTION.exec(line);
        return { name: match?.[1] ?? line, first: Number(match?.[2] ?? 0), last: Number(match?.[3] ?? 0) };
      });
    return {
      id,
      name: reader.text('name'),
      place: reader.text('place'),
      positions: reader.whole('positions', 'Positions') ?? 0,
      sections,
      note: reader.text('note'),
      retired: reader.all('retired').includes('yes'),
    };
  },
  add: addFrame as never,
  change: changeFrame as never,
  after: (id) => `/frames/${id}`,
};

const yarns: Kind<YarnRecord> = {
  path: 'yarns',
  word: 'yarn',
  hint: 'Targets that are not set stay empty; the usual breaks are what frames are held against.',
  find: ({ journal }, id) => findYarn(journal, id),
  fields: (make, _, old) => [
    make.text('name', 'Name', { value: plain(old?.name), hint: 'For example: Cotton 20 Ne for knitting.' }),
    make.number('count', 'Count', { unit: 'tex', value: plain(old?.targets.count) }),
    make.number('twist', 'Twist', { unit: 't/m', value: plain(old?.targets.twist) }),
    make.number('tenacity', 'Tenacity', { unit: 'cN/tex', value: plain(old?.targets.tenacity) }),
    make.number('hairiness', 'Hairiness', { value: plain(old?.targets.hairiness) }),
    make.number('cvm', 'Mass variation CVm', { unit: '%', value: plain(old?.targets.cvm) }),
    make.number('breaksPer1000', 'Usual breaks', {
      unit: 'per 1000 rotor-hours',
      value: plain(old?.targets.breaksPer1000),
    }),
    make.area('note', 'Note', { value: plain(old?.note) }),
    ...retired(make, old),
  ],
  read: (reader, id, old) => {
    return {
      id,
      name: reader.text('name'),
      endUse: old?.endUse ?? null,
      targets: {
        count: reader.amount('count', 'Count'),
        twist: reader.amount('twist', 'Twist'),
        tenacity: reader.amount('tenacity', 'Tenacity'),
        hairiness: reader.amount('hairiness', 'Hairiness'),
        cvm: reader.amount('cvm', 'Mass variation CVm'),
        breaksPer1000: reader.amount('breaksPer1000', 'Usual breaks'),
      },
      note: reader.text('note'),
      retired: reader.all('retired').includes('yes'),
    };
  },
  add: addYarn as never,
  change: changeYarn as never,
  after: () => '/frames#yarns',
};

const lots: Kind<LotRecord> = {
  path: 'lots',
  word: 'lot',
  hint: 'Material that is spun together and sold under one number.',
  find: ({ journal }, id) => findLot(journal, id),
  fields: (make, names, old) => [
    make.text('name', 'Name', { value: plain(old?.name) }),
    make.select('yarn', 'Yarn', [['', '–'], ...names.yarns], { chosen: [plain(old?.yarn)] }),
    make.text('material', 'Material', { value: plain(old?.material) }),
    make.moment('receivedAt', 'Received'),
    make.area('note', 'Note', { value: plain(old?.note) }),
    ...retired(make, old),
  ],
  read: (reader, id, old) => {
    return {
      id,
      name: reader.text('name'),
      yarn: reader.optional('yarn'),
      material: reader.text('material'),
      receivedAt: reader.moment('receivedAt', 'Received') ?? old?.receivedAt ?? null,
      note: reader.text('note'),
      retired: reader.all('retired').includes('yes'),
    };
  },
  add: addLot as never,
  change: changeLot as never,
  after: () => '/frames#lots',
};

/** Frames, yarns and lots: entered and changed. */
export function millRecordPages(site: Site): Hono {
  const app = new Hono();
  for (const kind of [frames, yarns, lots] as unknown as readonly Kind<FrameRecord>[])
    addKind(app, site, kind);
  return app;
}

interface Sent {
  readonly typed: Typed;
  readonly problems: readonly FormProblem[];
  readonly stale?: StaleError;
}

function addKind(app: Hono, site: Site, kind: Kind<FrameRecord>): void {
  const show = async (
    c: Context,
    desk: Desk,
    old: FrameRecord | undefined,
    sent?: Sent,
  ): Promise<Response> => {
    const names = await loadNames(desk.journal);
    const make = startFields(sent?.typed ?? new Map(), sent?.problems ?? []);
    const heading = old === undefined ? `Add a ${kind.word}` : `Edit ${old.name}`;
    const page: RecordPage = {
      head: viewHead(desk, '/frames'),
      backHref: old === undefined ? '/frames' : kind.after(old.id),
      backText: old === undefined || kind.path !== 'frames' ? 'All frames' : old.name,
      heading,
      lead: old === undefined ? kind.hint : '',
      stale:
        sent?.stale === undefined
          ? undefined
          : viewStale(
              sent.stale,
              sent.stale.since.map(
                (one) => `${one.who}, ${sayMoment(one.at)}: ${JSON.stringify(one.data).slice(0, 300)}`,
              ),
            ),
      cautions: [],
      how: [],
      facts: [],
      form: viewForm(
        old === undefined ? `/${kind.path}/new` : `/${kind.path}/${old.id}/edit`,
        old === undefined ? `Add the ${kind.word}` : 'Keep the changes',
        [
          ...(old === undefined
            ? [
                make.text('id', 'Short name for addresses', {
                  hint: `Letters, figures and hyphens; never changed later. For example: ${kind.word}-7.`,
                }),
              ]
            : [make.hidden('seen', String(old.version))]),
          ...kind.fields(make, names, old),
          make.hidden('key', newKey()),
          make.text('who', 'Your name', { value: desk.who, autocomplete: 'name' }),
        ],
        sent?.problems ?? [],
      ),
      second: undefined,
      secondHeading: '',
    };
    return c.html(
      site.page('journal-record', { title: heading, section: 'journal' }, page),
      sent === undefined ? 200 : sent.stale === undefined ? 422 : 409,
    );
  };

  const save = async (c: Context, desk: Desk, old: FrameRecord | undefined): Promise<Response> => {
    const { typed } = await readSent(c);
    const reader = readTyped(typed);
    const id = old === undefined ? reader.needed('id', 'Short name for addresses') : old.id;
    reader.needed('name', 'Name');
    reader.needed('who', 'Your name');
    const seen = old === undefined ? undefined : Number(typed.get('seen')?.at(-1) ?? 0);
    const make = startFields(typed, []);
    const controls = [
      ...(old === undefined ? [make.text('id', 'Short name for addresses')] : []),
      ...kind.fields(make, await loadNames(desk.journal), old),
      make.text('who', 'Your name'),
    ];
    const record = kind.read(reader, id, old) as never;
    const written = await writeSent(controls, reader.problems, () =>
      seen === undefined
        ? kind.add(desk.journal, record, byFrom(typed))
        : kind.change(desk.journal, seen, record, byFrom(typed)),
    );
    if (!written.ok) return show(c, desk, old, { typed, ...written });
    rememberName(c, typed);
    site.framesChanged();
    return c.redirect(kind.after(written.value.id), 303);
  };

  const base = `/${kind.path}`;
  app.get(
    `${base}/new`,
    atDesk(site, (c, desk) => show(c, desk, undefined)),
  );
  app.post(
    `${base}/new`,
    atDesk(site, (c, desk) => save(c, desk, undefined)),
  );
  app.get(
    `${base}/:id/edit`,
    atDesk(site, async (c, desk) => show(c, desk, await kind.find(desk, pathPart(c, 'id')))),
  );
  app.post(
    `${base}/:id/edit`,
    atDesk(site, async (c, desk) => save(c, desk, await kind.find(desk, pathPart(c, 'id')))),
  );
}

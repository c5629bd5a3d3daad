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
import { say } from '../../../language/say.js';
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
  /** The word in its identifiers. */
  readonly word: string;
  hint(): string;
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
        make.checkboxes('retired', say('mill.still-in-use'), [['yes', say('mill.no-longer')]], {
          chosen: old.retired ? ['yes'] : [],
        }),
      ];

/** Sections written one a line: "Left side 1-120". */
const SECTION = /^(.+?)[\s,:]+(\d{1,4})\s*[-–]\s*(\d{1,4})$/;

const frames: Kind<FrameRecord> = {
  path: 'frames',
  word: 'frame',
  hint: () => say('mill.hint-frame'),
  find: ({ journal }, id) => findFrame(journal, id),
  fields: (make, _, old) => [
    make.text('name', say('mill.name'), { value: plain(old?.name), hint: say('mill.name-hint') }),
    make.text('place', say('mill.where-stands'), { value: plain(old?.place) }),
    make.number('positions', say('mill.positions'), { value: plain(old?.positions) }),
    make.area('sections', say('mill.sections'), {
      value: old?.sections.map((one) => `${one.name} ${one.first}-${one.last}`).join('\n') ?? '',
      hint: say('mill.sections-hint'),
    }),
    make.area('note', say('record.note'), { value: plain(old?.note) }),
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
      positions: reader.whole('positions', say('mill.positions')) ?? 0,
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
  hint: () => say('mill.hint-yarn'),
  find: ({ journal }, id) => findYarn(journal, id),
  fields: (make, _, old) => [
    make.text('name', say('mill.name'), { value: plain(old?.name), hint: say('mill.yarn-hint') }),
    make.number('count', say('mill.count'), { unit: 'tex', value: plain(old?.targets.count) }),
    make.number('twist', say('mill.twist'), { unit: 't/m', value: plain(old?.targets.twist) }),
    make.number('tenacity', say('mill.tenacity'), { unit: 'cN/tex', value: plain(old?.targets.tenacity) }),
    make.number('hairiness', say('mill.hairiness'), { value: plain(old?.targets.hairiness) }),
    make.number('cvm', say('mill.cvm'), { unit: '%', value: plain(old?.targets.cvm) }),
    make.number('breaksPer1000', say('mill.usual-breaks'), {
      unit: say('mill.unit-breaks'),
      value: plain(old?.targets.breaksPer1000),
    }),
    make.area('note', say('record.note'), { value: plain(old?.note) }),
    ...retired(make, old),
  ],
  read: (reader, id, old) => {
    return {
      id,
      name: reader.text('name'),
      endUse: old?.endUse ?? null,
      targets: {
        count: reader.amount('count', say('mill.count')),
        twist: reader.amount('twist', say('mill.twist')),
        tenacity: reader.amount('tenacity', say('mill.tenacity')),
        hairiness: reader.amount('hairiness', say('mill.hairiness')),
        cvm: reader.amount('cvm', say('mill.cvm')),
        breaksPer1000: reader.amount('breaksPer1000', say('mill.usual-breaks')),
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
  hint: () => say('mill.hint-lot'),
  find: ({ journal }, id) => findLot(journal, id),
  fields: (make, names, old) => [
    make.text('name', say('mill.name'), { value: plain(old?.name) }),
    make.select('yarn', say('record.yarn'), [['', '–'], ...names.yarns], { chosen: [plain(old?.yarn)] }),
    make.text('material', say('mill.material'), { value: plain(old?.material) }),
    make.moment('receivedAt', say('complaint.received')),
    make.area('note', say('record.note'), { value: plain(old?.note) }),
    ...retired(make, old),
  ],
  read: (reader, id, old) => {
    return {
      id,
      name: reader.text('name'),
      yarn: reader.optional('yarn'),
      material: reader.text('material'),
      receivedAt: reader.moment('receivedAt', say('complaint.received')) ?? old?.receivedAt ?? null,
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
    const heading =
      old === undefined ? say(`mill.add-${kind.path}`) : say('mill.edit-name', { name: old.name });
    const page: RecordPage = {
      head: viewHead(desk, '/frames'),
      backHref: old === undefined ? '/frames' : kind.after(old.id),
      backText: old === undefined || kind.path !== 'frames' ? say('mill.all-frames') : old.name,
      heading,
      lead: old === undefined ? kind.hint() : '',
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
        old === undefined ? say(`mill.submit-${kind.path}`) : say('mill.keep-changes'),
        [
          ...(old === undefined
            ? [
                make.text('id', say('mill.short-name'), {
                  hint: say('mill.short-hint', { example: `${kind.word}-7` }),
                }),
              ]
            : [make.hidden('seen', String(old.version))]),
          ...kind.fields(make, names, old),
          make.hidden('key', newKey()),
          make.text('who', say('record.your-name'), { value: desk.who, autocomplete: 'name' }),
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
    const id = old === undefined ? reader.needed('id', say('mill.short-name')) : old.id;
    reader.needed('name', say('mill.name'));
    reader.needed('who', say('record.your-name'));
    const seen = old === undefined ? undefined : Number(typed.get('seen')?.at(-1) ?? 0);
    const make = startFields(typed, []);
    const controls = [
      ...(old === undefined ? [make.text('id', say('mill.short-name'))] : []),
      ...kind.fields(make, await loadNames(desk.journal), old),
      make.text('who', say('record.your-name')),
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

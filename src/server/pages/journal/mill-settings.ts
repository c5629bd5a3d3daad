import { type Context, Hono } from 'hono';
import { readMillZone, setMillZone, timeZones } from '../../../journal/index.js';
import {
  atDesk,
  byFrom,
  type Desk,
  newKey,
  readSent,
  rememberName,
  viewHead,
  writeSent,
} from '../../journal/desk.js';
import type { Site } from '../../site.js';
import {
  type Fields,
  type FormProblem,
  readTyped,
  startFields,
  type Typed,
  viewForm,
} from '../../views/journal/form.js';
import { sayMoment } from '../../views/journal/moments.js';

const PATH = '/settings/mill';

/** Settings of the mill: the time zone of its clocks. */
export function millSettingsPages(site: Site): Hono {
  const show = async (
    c: Context,
    desk: Desk,
    sent?: { readonly typed: Typed; readonly problems: readonly FormProblem[] },
  ): Promise<Response> => {
    const zone = await readMillZone(desk.journal);
    const fields = zoneFields(startFields(sent?.typed ?? new Map(), sent?.problems ?? []), desk, zone);
    return c.html(
      site.page(
        'journal-record',
        { title: 'Settings of the mill', section: 'journal' },
        {
          head: viewHead(desk, '/journal'),
          backHref: '/journal',
          backText: 'Journal',
          heading: 'Settings of the mill',
          lead: `The clocks of the mill go by ${zone}; they show ${sayMoment(new Date().toISOString())} now. Days, hours and dates on every page of the journal are theirs.`,
          stale: undefined,
          cautions: [],
          how: [],
          facts: [],
          form: viewForm(PATH, 'Set the time zone', fields, sent?.problems ?? []),
          second: undefined,
          secondHeading: '',
        },
      ),
      sent === undefined ? 200 : 422,
    );
  };
  return new Hono()
    .get(
      PATH,
      atDesk(site, (c, desk) => show(c, desk)),
    )
    .post(
      PATH,
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const reader = readTyped(typed);
        reader.needed('who', 'Your name');
        const zone = reader.needed('time-zone', 'Time zone');
        const fields = zoneFields(startFields(typed, []), desk, zone);
        const written = await writeSent(fields, reader.problems, () =>
          setMillZone(desk.journal, zone, byFrom(typed)),
        );
        if (!written.ok) return show(c, desk, { typed, problems: written.problems });
        rememberName(c, typed);
        return c.redirect(PATH, 303);
      }),
    );
}

function zoneFields(make: Fields, desk: Desk, zone: string) {
  const names = timeZones();
  // An older name of a zone is valid and yet not among those offered.
  const offered = names.includes(zone) ? names : [zone, ...names];
  return [
    make.hidden('key', newKey()),
    make.select(
      'time-zone',
      'Time zone',
      offered.map((name) => [name, name.replaceAll('_', ' ')] as const),
      {
        chosen: [zone],
        hint: 'What was recorded keeps its instant; only the days and clock times by which it is shown and grouped change.',
      },
    ),
    make.text('who', 'Your name', { value: desk.who, autocomplete: 'name' }),
  ];
}

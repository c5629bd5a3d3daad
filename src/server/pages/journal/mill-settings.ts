import { type Context, Hono } from 'hono';
import { readMillZone, setMillZone, timeZones } from '../../../journal/index.js';
import { say } from '../../../language/say.js';
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
        { title: say('overview.mill-settings'), section: 'journal' },
        {
          head: viewHead(desk, '/journal'),
          backHref: '/journal',
          backText: say('shell.journal'),
          heading: say('overview.mill-settings'),
          lead: say('mill.clocks', { zone, now: sayMoment(new Date().toISOString()) }),
          stale: undefined,
          cautions: [],
          how: [],
          facts: [],
          form: viewForm(PATH, say('mill.set-zone'), fields, sent?.problems ?? []),
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
        reader.needed('who', say('record.your-name'));
        const zone = reader.needed('time-zone', say('mill.zone'));
        const fields = zoneFields(startFields(typed, []), desk, zone);
        const written = await writeSent(fields, reader.problems, () =>
          setMillZone(desk.journal, zone, byFrom(typed)),
        );
        if (!written.ok) return show(c, desk, { typed, problems: written.problems });
        rememberName(c, typed);
        site.framesChanged();
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
      say('mill.zone'),
      offered.map((name) => [name, name.replaceAll('_', ' ')] as const),
      {
        chosen: [zone],
        hint: say('mill.zone-hint'),
      },
    ),
    make.text('who', say('record.your-name'), { value: desk.who, autocomplete: 'name' }),
  ];
}

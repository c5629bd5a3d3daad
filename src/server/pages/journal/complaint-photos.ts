import { type Context, Hono } from 'hono';
import { addPhoto, findComplaint, findPhoto, withdrawPhoto } from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import {
  atDesk,
  byFrom,
  type Desk,
  newKey,
  pathPart,
  readSent,
  rememberName,
  viewHead,
  writeSent,
} from '../../journal/desk.js';
import type { Site } from '../../site.js';
import { readTyped, startFields, viewForm } from '../../views/journal/form.js';
import { answerForm, bare, photoForm, type Sent, showComplaint } from './complaint-page.js';

/** Photos of complaints: added, shown, withdrawn. */
export function complaintPhotoPages(site: Site): Hono {
  return new Hono()
    .post(
      '/complaints/:id{complaint-[0-9]+}/photos',
      atDesk(site, async (c, desk) => {
        const { typed, files } = await readSent(c);
        const reader = readTyped(typed);
        const id = pathPart(c, 'id');
        reader.needed('who', say('record.your-name'));
        const photo = files.get('photo');
        if (photo === undefined)
          reader.problems.push({ name: 'photo', message: say('complaint.no-file'), allowed: '' });
        const record = await findComplaint(desk.journal, id);
        const written = await writeSent(photoForm(desk, record).fields, reader.problems, async () =>
          addPhoto(
            desk.journal,
            id,
            {
              bytes: new Uint8Array((await photo?.arrayBuffer()) ?? new ArrayBuffer(0)),
              caption: reader.text('caption'),
            },
            byFrom(typed),
          ),
        );
        if (!written.ok) return showComplaint(site, c, desk, written.problems, typed);
        rememberName(c, typed);
        return c.redirect(`/complaints/${id}#photos-heading`, 303);
      }),
    )
    .get(
      '/photos/:photo{photo-[0-9a-f-]+}',
      atDesk(site, async (c, desk) => {
        const photo = await findPhoto(desk.journal, pathPart(c, 'photo'));
        if (c.req.header('if-none-match') === photo.headers.ETag) return c.body(null, 304);
        return c.body(new Uint8Array(photo.bytes), 200, { ...photo.headers });
      }),
    )
    .get(
      '/photos/:photo{photo-[0-9a-f-]+}/withdraw',
      atDesk(site, (c, desk) => withdrawPage(c, desk)),
    )
    .post(
      '/photos/:photo{photo-[0-9a-f-]+}/withdraw',
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const reader = readTyped(typed);
        const why = reader.needed('why', say('record.why'));
        reader.needed('who', say('record.your-name'));
        const written = await writeSent(
          [startFields(typed, []).text('why', say('record.why'))],
          reader.problems,
          () => withdrawPhoto(desk.journal, pathPart(c, 'photo'), why, byFrom(typed)),
        );
        if (!written.ok) return withdrawPage(c, desk, { typed, ...written });
        rememberName(c, typed);
        return c.redirect(`/complaints/${written.value.complaint}`, 303);
      }),
    );

  function withdrawPage(c: Context, desk: Desk, sent?: Sent): Promise<Response> {
    const make = startFields(sent?.typed ?? new Map(), sent?.problems ?? []);
    const id = pathPart(c, 'photo');
    return Promise.resolve(
      answerForm(
        site,
        c,
        {
          ...bare,
          head: viewHead(desk, '/complaints'),
          backHref: '/complaints',
          backText: say('complaint.all'),
          heading: say('complaint.withdraw-photo'),
          lead: say('complaint.withdraw-lead'),
          form: viewForm(
            `/photos/${id}/withdraw`,
            say('record.withdraw-it'),
            [
              make.text('why', say('record.why')),
              make.hidden('key', newKey()),
              make.text('who', say('record.your-name'), { value: desk.who, autocomplete: 'name' }),
            ],
            sent?.problems ?? [],
          ),
        },
        sent,
      ),
    );
  }
}

import type { Context } from 'hono';
import {
  type CaseRecord,
  type ComplaintDetail,
  findCase,
  findComplaint,
  MOST_PHOTOS,
  type StaleError,
} from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import type { FormView, RecordPage } from '../../../templates/journal-models.js';
import { type Desk, newKey, pathPart, viewHead } from '../../journal/desk.js';
import { loadNames } from '../../journal/names.js';
import type { Site } from '../../site.js';
import { viewComplaint } from '../../views/journal/complaint.js';
import { type FormProblem, startFields, type Typed, viewForm } from '../../views/journal/form.js';

/** A form as it was sent, with what is wrong with it. */
export interface Sent {
  readonly typed: Typed;
  readonly problems: readonly FormProblem[];
  readonly stale?: StaleError;
}

/** What a page with one form on it has when there is nothing more to say. */
export const bare = {
  stale: undefined,
  cautions: [],
  how: [],
  facts: [],
  second: undefined,
  secondHeading: '',
};

/** Answers with a page that has one form on it. */
export const answerForm = (site: Site, c: Context, page: RecordPage, sent?: Sent) => {
  const wrong = (sent?.problems.length ?? 0) > 0;
  return c.html(
    site.page(
      'journal-record',
      { title: wrong ? say('complaint.error', { title: page.heading }) : page.heading, section: 'journal' },
      page,
    ),
    sent?.stale !== undefined ? 409 : wrong ? 422 : 200,
  );
};

/** The form that adds a photo to a complaint. */
export const photoForm = (
  desk: Desk,
  record: ComplaintDetail,
  problems: readonly FormProblem[] = [],
  typed: Typed = new Map(),
): FormView => {
  const make = startFields(typed, problems);
  return viewForm(
    `/complaints/${record.id}/photos`,
    say('complaint.add-photo'),
    [
      make.file('photo', say('complaint.photo'), {
        hint: say('complaint.photo-hint', { most: MOST_PHOTOS }),
      }),
      make.text('caption', say('complaint.shows')),
      make.hidden('key', newKey()),
      make.text('who', say('record.your-name'), { value: desk.who, autocomplete: 'name' }),
    ],
    problems,
  );
};

/** The page of one complaint, with what is wrong with a photo that was sent. */
export const showComplaint = async (
  site: Site,
  c: Context,
  desk: Desk,
  problems: readonly FormProblem[] = [],
  typed: Typed = new Map(),
) => {
  const record = await findComplaint(desk.journal, pathPart(c, 'id'));
  const cases: CaseRecord[] = [];
  for (const id of record.cases) cases.push(await findCase(desk.journal, id));
  return c.html(
    site.page(
      'journal-complaint',
      {
        title:
          problems.length > 0 ? say('complaint.error', { title: record.fabricFault }) : record.fabricFault,
        section: 'journal',
      },
      viewComplaint(
        record,
        cases.sort((a, b) => (a.openedAt < b.openedAt ? 1 : -1)),
        photoForm(desk, record, problems, typed),
        site.knowledge,
        await loadNames(desk.journal),
        viewHead(desk, '/complaints'),
      ),
    ),
    problems.length > 0 ? 422 : 200,
  );
};

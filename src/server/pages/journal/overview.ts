import { Hono } from 'hono';
import {
  countCases,
  countComplaints,
  listFrames,
  searchCases,
  searchComplaints,
} from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { atDesk, viewHead } from '../../journal/desk.js';
import { loadNames } from '../../journal/names.js';
import type { Site } from '../../site.js';
import { monthsBefore } from '../../views/journal/moments.js';
import { casesTable, complaintsTable } from '../../views/journal/rows.js';
import { NOT_CLOSED } from './filter-params.js';

/** The journal at a glance: what is open, and the question that is asked most. */
export function journalPages(site: Site): Hono {
  const { knowledge } = site;
  return new Hono().get(
    '/journal',
    atDesk(site, async (c, desk) => {
      const { journal } = desk;
      const names = await loadNames(journal);
      const open = { state: [...NOT_CLOSED] };
      const complaintsOpen = {
        state: ['open', 'contained', 'traced', 'corrected', 'verified'] as const,
      };
      const month = monthsBefore(new Date().toISOString(), 1);
      const cases = await searchCases(journal, open, { size: 8 });
      const complaints = await searchComplaints(journal, { state: [...complaintsOpen.state] }, { size: 6 });
      const figures = {
        open: await countCases(journal, open),
        closed: await countCases(journal, { closedFrom: month }),
        complaints: await countComplaints(journal, { state: [...complaintsOpen.state] }),
        frames: (await listFrames(journal)).filter((frame) => !frame.retired).length,
      };
      return c.html(
        site.page(
          'journal',
          { title: say('shell.journal'), section: 'journal' },
          {
            head: viewHead(desk, '/journal'),
            tiles: [
              { href: '/cases?state=not-closed', figure: String(figures.open), text: say('overview.t-open') },
              {
                href: '/cases?state=closed&months=1',
                figure: String(figures.closed),
                text: say('overview.t-closed'),
              },
              {
                href: '/complaints?state=not-closed',
                figure: String(figures.complaints),
                text: say('overview.t-complaints'),
              },
              { href: '/frames', figure: String(figures.frames), text: say('overview.t-frames') },
            ],
            cases: casesTable('open-cases', cases.rows, knowledge, names, say('overview.no-case-open')),
            complaints: complaintsTable(
              'open-complaints',
              complaints.rows,
              knowledge,
              names,
              say('overview.no-complaint-open'),
            ),
            yarns: [...names.yarns].map(([id, text]) => ({
              href: `/quality?yarn=${encodeURIComponent(id)}&months=6`,
              text,
            })),
          },
        ),
      );
    }),
  );
}

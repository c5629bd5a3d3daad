import { Hono } from 'hono';
import { findComplaint } from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { atDesk, pathPart } from '../../journal/desk.js';
import { loadNames } from '../../journal/names.js';
import type { Site } from '../../site.js';
import { complaintFacts } from '../../views/journal/complaint.js';
import { sayLongDay } from '../../views/journal/moments.js';
import { causeName } from '../../views/journal/words.js';

/** The letter that closes a complaint, to print. */
export function complaintLetterPages(site: Site): Hono {
  const { knowledge } = site;

  return new Hono().get(
    '/complaints/:id{complaint-[0-9]+}/letter',
    atDesk(site, async (c, desk) => {
      const record = await findComplaint(desk.journal, pathPart(c, 'id'));
      const names = await loadNames(desk.journal);
      const missing = [
        ...(record.rootCause === null ? [say('complaint.missing-root')] : []),
        ...(record.corrective === '' ? [say('complaint.missing-corrective')] : []),
        ...(record.verification === null ? [say('complaint.missing-verification')] : []),
      ];
      const onLetter = [
        say('complaint.received'),
        say('complaint.claimed'),
        say('record.yarn'),
        say('record.lot'),
        say('complaint.spun'),
      ];
      const section = (title: string, text: string) =>
        text === ''
          ? []
          : [{ title, lines: text.split('\n').filter((line) => line !== ''), table: undefined }];
      return c.html(
        site.page(
          'journal-sheet',
          { title: say('complaint.letter-on', { number: record.number }), section: 'journal' },
          {
            backHref: `/complaints/${record.id}`,
            backText: say('complaint.back-to'),
            demo: desk.demo,
            heading: say('complaint.yours', { fault: record.fabricFault }),
            top: [
              record.customer,
              sayLongDay(new Date().toISOString()),
              say('complaint.reference', { number: record.number }),
            ],
            facts: complaintFacts(record, names)
              .filter((fact) => onLetter.includes(fact.term))
              .map((fact) => ({ ...fact, href: '' })),
            sections: [
              {
                title: '',
                lines: [
                  say('complaint.opening', {
                    day: sayLongDay(record.receivedAt),
                    fault: record.fabricFault,
                  }),
                ],
                table: undefined,
              },
              ...section(say('complaint.l-containment'), record.containment),
              ...section(
                say('complaint.l-cause'),
                record.rootCause === null
                  ? ''
                  : `${record.rootCause.cause === null ? '' : `${causeName(knowledge, record.rootCause.cause)}.\n`}${record.rootCause.text}`,
              ),
              ...section(say('complaint.l-corrective'), record.corrective),
              ...section(say('complaint.l-preventive'), record.preventive),
              ...section(say('complaint.l-verification'), record.verification?.text ?? ''),
              ...(missing.length === 0
                ? [
                    {
                      title: '',
                      lines: [say('complaint.regret')],
                      table: undefined,
                    },
                  ]
                : [
                    {
                      title: say('complaint.not-ready'),
                      lines: [say('complaint.still-missing', { what: missing.join(', ') })],
                      table: undefined,
                    },
                  ]),
            ],
            signatures: [say('complaint.signature')],
          },
        ),
      );
    }),
  );
}

import { type Command, JSON_OPTION, optionText, printJson } from '../command.js';
import { argumentError, EXIT } from '../errors.js';
import {
  COMMAND_LINE,
  DATA_OPTION,
  type Place,
  placeOf,
  withJournal,
  withPresentJournal,
} from '../journal/place.js';

/** `peelpoint move --to PLACE`. */
export const move: Command = {
  name: 'move',
  summary: 'copy the journal into another, empty database or data folder',
  about: [
    'Copies the whole journal into PostgreSQL, or back into a data folder, all of it or nothing, and checks that every table holds as many rows. The journal it comes from stays as it is. Stop the server before, so that nothing is written behind the copy.',
  ],
  arguments: [],
  options: {
    to: { value: 'PLACE', help: 'a PostgreSQL address, or a data folder' },
    ...DATA_OPTION,
    ...JSON_OPTION,
  },
  examples: ['peelpoint move --data data --to postgresql://peelpoint@db.example/mill'],
  run: async (given, terminal) => {
    const to = optionText(given, 'to')?.trim() ?? '';
    if (to === '')
      throw argumentError('--to', '', 'is missing', [
        'a PostgreSQL address such as postgresql://user@host/database',
        'a data folder',
      ]);
    const target: Place = /^postgres(ql)?:\/\//.test(to) ? { url: to } : { folder: to };
    const { moveJournal, noteAudit } = await import('../../journal/index.js');
    const { place, moved } = await withPresentJournal(placeOf(given), (from) =>
      withJournal(target, async (into) => {
        const done = { place: into.place, moved: await moveJournal(from, into) };
        const line = { kind: 'export', subject: 'journal', action: 'moved', data: { to: into.place } };
        await noteAudit(from, line, COMMAND_LINE);
        return done;
      }),
    );
    if (given.options.has('json')) printJson(terminal, { place, ...moved });
    else
      terminal.out(
        `${Object.entries(moved.rows)
          .filter(([, count]) => count > 0)
          .map(([table, count]) => `  ${table.padEnd(20)} ${count} rows`)
          .join(
            '\n',
          )}\nEvery table was counted on both sides and holds as many rows.\nCopied ${moved.total} rows to ${place}. Start the server on it from now on (${target.url === undefined ? `--data ${to}` : 'DATABASE_URL'}); the old journal is as it was.\n`,
      );
    return EXIT.done;
  },
};

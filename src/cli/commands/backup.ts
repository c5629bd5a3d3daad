import { type Command, JSON_OPTION, printJson } from '../command.js';
import { EXIT } from '../errors.js';
import { COMMAND_LINE, DATA_OPTION, placeOf, withPresentJournal } from '../journal/place.js';

/** `peelpoint backup FILE`. */
export const backup: Command = {
  name: 'backup',
  summary: 'save the journal to one file, while it is in use',
  about: [
    'Saves the whole journal as it is at one moment, while the pages go on working. From a data folder the backup is a SQLite database, from PostgreSQL a file with one JSON object a line. It is looked through before it takes its name.',
    'A file that exists is not overwritten.',
  ],
  arguments: [{ name: 'FILE', help: 'where the backup goes' }],
  options: { ...DATA_OPTION, ...JSON_OPTION },
  examples: [
    'peelpoint backup /backups/mill-2026-11-25.sqlite',
    'peelpoint backup mill.backup --data /srv/mill',
  ],
  run: async (given, terminal) => {
    const [file = ''] = given.arguments;
    const { backUpJournal, noteAudit } = await import('../../journal/index.js');
    const done = await withPresentJournal(placeOf(given), async (journal) => {
      const backup = await backUpJournal(journal, file);
      const line = { kind: 'export', subject: 'journal', action: 'backed-up', data: { rows: backup.total } };
      await noteAudit(journal, line, COMMAND_LINE);
      return backup;
    });
    if (given.options.has('json')) printJson(terminal, done);
    else
      terminal.out(
        `Saved ${done.total} rows to ${done.file} (${done.kind === 'sqlite' ? 'a SQLite database' : 'an export'}).\n`,
      );
    return EXIT.done;
  },
};

import { type Command, JSON_OPTION, printJson } from '../command.js';
import { EXIT } from '../errors.js';
import { COMMAND_LINE, DATA_OPTION, placeOf, tellFaults } from '../journal/place.js';

/** `peelpoint restore FILE`. */
export const restore: Command = {
  name: 'restore',
  summary: 'bring a backup back into an empty data folder or database',
  about: [
    'Brings back what “peelpoint backup” saved, of either kind, and checks it. A journal that is there already is never overwritten: move it aside first. Stop the server before.',
  ],
  arguments: [{ name: 'FILE', help: 'the backup' }],
  options: { ...DATA_OPTION, ...JSON_OPTION },
  examples: ['peelpoint restore /backups/mill-2026-11-25.sqlite --data /srv/mill'],
  run: async (given, terminal) => {
    const [file = ''] = given.arguments;
    const { actAs, noteAudit, restoreJournal } = await import('../../journal/index.js');
    const { place, moved } = await tellFaults(async () => {
      const { journal, moved } = await restoreJournal(file, placeOf(given));
      await actAs({ via: 'command', account: null, address: '' }, () =>
        noteAudit(
          journal,
          { kind: 'export', subject: 'journal', action: 'restored', data: { rows: moved.total } },
          COMMAND_LINE,
        ),
      );
      await journal.close();
      return { place: journal.place, moved };
    });
    if (given.options.has('json')) printJson(terminal, { place, ...moved });
    else terminal.out(`Restored ${moved.total} rows to ${place}.\n`);
    return EXIT.done;
  },
};

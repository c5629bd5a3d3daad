import type { Command } from '../command.js';
import { EXIT } from '../errors.js';
import { DATA_OPTION, placeOf, withJournal, withPresentJournal } from '../journal/place.js';

/** `peelpoint time-zone [ZONE]`. */
export const timeZone: Command = {
  name: 'time-zone',
  summary: 'show or set the time zone of the mill',
  about: [
    'Shows the time zone whose clocks hang in the mill, or sets it. Days, shifts and dates on every page go by it. What was recorded keeps its instant: setting another zone changes only how times are shown and grouped by day.',
    'A new journal takes the zone of the computer on which it is made.',
  ],
  arguments: [
    {
      name: 'ZONE',
      help: 'its name in the IANA list: Europe/Istanbul, Asia/Kolkata, UTC; left out: show it',
      optional: true,
    },
  ],
  options: { ...DATA_OPTION },
  examples: ['peelpoint time-zone', 'peelpoint time-zone Asia/Kolkata'],
  run: async (given, terminal) => {
    const [zone] = given.arguments;
    const { readMillZone, setMillZone } = await import('../../journal/index.js');
    const open = zone === undefined ? withPresentJournal : withJournal;
    const present = await open(placeOf(given), async (journal) => {
      if (zone !== undefined) await setMillZone(journal, zone, { who: 'command line' });
      return readMillZone(journal);
    });
    terminal.out(`${present}\n`);
    return EXIT.done;
  },
};

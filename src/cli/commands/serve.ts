import { wholeNumber } from '../arguments.js';
import { type Command, KNOWLEDGE_OPTION, optionText } from '../command.js';
import { knowledgeFolder } from '../engine.js';
import { argumentError, EXIT, InputError } from '../errors.js';
import { DATA_OPTION, placeOf } from '../journal/place.js';

/** `peelpoint serve`: the web pages. */
export const serve: Command = {
  name: 'serve',
  summary: 'start the pages for the browser',
  about: [
    'Starts the web pages: the bench for the shift, the desk for quality, the classroom and the rules.',
    'Frames, cases and complaints are kept in a journal: in the folder data, in the one of --data, or in the PostgreSQL database of DATABASE_URL. It is made when it is not there, and brought up to date when it is older than the program.',
    'Without --host only this computer can open them. It runs until it is stopped (Ctrl-C).',
  ],
  arguments: [],
  options: {
    port: { value: 'N', help: 'the port to listen on, 4680 when left out' },
    host: {
      value: 'H',
      help: 'the address to listen on, 127.0.0.1 when left out; 0.0.0.0 for the whole network',
    },
    ...DATA_OPTION,
    empty: { help: 'leave an empty journal empty; else it is filled with an invented mill, clearly marked' },
    'time-zone': {
      value: 'ZONE',
      help: 'the time zone of the mill for a journal that has none yet (Asia/Kolkata); left out: that of this computer',
    },
    ...KNOWLEDGE_OPTION,
  },
  examples: [
    'peelpoint serve',
    'peelpoint serve --host 0.0.0.0 --port 8080',
    'peelpoint serve --data /srv/mill --empty',
  ],
  run: async (given, terminal) => {
    const port = wholeNumber(given, 'port', [0, 65_535]);
    const host = optionText(given, 'host')?.trim();
    if (host === '') throw argumentError('--host', '', 'is empty', ['a name or an address of this computer']);
    const timeZone = optionText(given, 'time-zone');
    if (timeZone !== undefined && !(await import('../../journal/index.js')).knowsTimeZone(timeZone))
      throw argumentError('--time-zone', timeZone, 'is not a known time zone', [
        'a name of the IANA list such as Europe/Istanbul, Asia/Kolkata or UTC',
      ]);
    const knowledgeRoot = await knowledgeFolder(given);
    // Loaded when it is wanted, so that the other commands start without it.
    const { ListenError, serve: start } = await import('../../server/serve.js');
    try {
      const server = await start({
        knowledgeRoot,
        journal: {
          ...placeOf(given),
          demo: !given.options.has('empty'),
          ...(timeZone === undefined ? {} : { timeZone }),
        },
        print: (line) => terminal.out(`${line}\n`),
        ...(port === undefined ? {} : { port }),
        ...(host === undefined ? {} : { host }),
      });
      await server.stopped;
    } catch (error) {
      if (error instanceof ListenError) throw new InputError(error.message.replace(/\.$/, ''), []);
      throw error;
    }
    return EXIT.done;
  },
};

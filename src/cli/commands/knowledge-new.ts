import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { oneOf } from '../arguments.js';
import { type Command, JSON_OPTION, KNOWLEDGE_OPTION, printJson } from '../command.js';
import { knowledgeFolder, openKnowledge } from '../engine.js';
import { argumentError, EXIT } from '../errors.js';
import { startPage } from '../layout/page.js';

/** `peelpoint knowledge new`: a valid file to begin with. */
export const knowledgeNew: Command = {
  name: 'knowledge new',
  summary: 'begin a file: cause, action, check, symptom or mechanism',
  about: [
    'Writes a file that passes the schema and refers only to what exists. Every placeholder is marked TODO; the knowledge check reports it as a warning until it is written. A file that is there is never overwritten.',
  ],
  arguments: [
    { name: 'KIND', help: 'cause, action, check, symptom or mechanism' },
    { name: 'ID', help: 'its id: lower-case words joined by hyphens' },
  ],
  options: { ...JSON_OPTION, ...KNOWLEDGE_OPTION },
  examples: ['peelpoint knowledge new cause can-spring-broken'],
  run: async (given, terminal) => {
    const { SCAFFOLDS, scaffold } = await import('../../rules/workshop/scaffold.js');
    const [word = '', id = ''] = given.arguments;
    const kind = oneOf('KIND', word, SCAFFOLDS, 'a kind of file');
    const root = await knowledgeFolder(given);
    const { book } = await openKnowledge(given);
    let begun: ReturnType<typeof scaffold>;
    try {
      begun = scaffold(kind, id, book);
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      throw argumentError('ID', id, error.message, ['a new id: lower-case words joined by hyphens']);
    }
    const path = join(root, begun.file);
    if (existsSync(path)) throw argumentError('ID', id, `is taken: ${begun.file} exists`, ['a new id']);
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, begun.text, { flag: 'wx' });
    if (given.options.has('json')) printJson(terminal, { file: path });
    else {
      const page = startPage(terminal);
      page.line(path);
      page.text('Write what is marked TODO, then run "peelpoint knowledge check".');
      page.print();
    }
    return EXIT.done;
  },
};

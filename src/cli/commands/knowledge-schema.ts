import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Command, JSON_OPTION, printJson } from '../command.js';
import { argumentError, EXIT } from '../errors.js';
import { startPage } from '../layout/page.js';
import { sayFault } from '../source.js';

/** `peelpoint knowledge schema`: JSON Schemas of the knowledge-base files. */
export const knowledgeSchema: Command = {
  name: 'knowledge schema',
  summary: 'write JSON Schemas of the knowledge-base files, for editors',
  about: [
    'Writes one JSON Schema for each kind of file into a folder, and says for which files each is meant. An editor that knows YAML schemas then completes fields and marks mistakes while you write. Without a folder they are printed as JSON.',
  ],
  arguments: [{ name: 'DIR', help: 'the folder to write into', optional: true }],
  options: JSON_OPTION,
  examples: ['peelpoint knowledge schema ./schemas'],
  run: async (given, terminal) => {
    const { jsonSchemas } = await import('../../rules/workshop/json-schemas.js');
    const schemas = jsonSchemas();
    const [folder] = given.arguments;
    if (folder === undefined) {
      printJson(terminal, Object.fromEntries(schemas.map(({ name, schema }) => [name, schema])));
      return EXIT.done;
    }
    const written = schemas.map(({ name, files, schema }) => ({
      file: join(folder, `${name}.schema.json`),
      for: files,
      schema,
    }));
    try {
      mkdirSync(folder, { recursive: true });
      for (const one of written) writeFileSync(one.file, `${JSON.stringify(one.schema, null, 2)}\n`);
    } catch (error) {
      throw argumentError('DIR', folder, sayFault(error), ['a folder that can be written to']);
    }
    if (given.options.has('json'))
      printJson(
        terminal,
        written.map(({ file, for: files }) => ({ file, for: files })),
      );
    else {
      const page = startPage(terminal);
      page.table(
        [{ title: 'Schema' }, { title: 'For' }],
        written.map((one) => [one.file, one.for]),
      );
      page.print();
    }
    return EXIT.done;
  },
};

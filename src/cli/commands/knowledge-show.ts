import { nearestWord } from '../../rules/case/nearest-word.js';
import { type Command, JSON_OPTION, KNOWLEDGE_OPTION, printJson } from '../command.js';
import { openKnowledge } from '../engine.js';
import { argumentError, EXIT } from '../errors.js';
import { findEntries, idsOf } from '../knowledge/entries.js';
import { writeEntry } from '../knowledge/entry-pages.js';
import { startPage } from '../layout/page.js';

/** `peelpoint knowledge show`: all the knowledge base says under one id. */
export const knowledgeShow: Command = {
  name: 'knowledge show',
  summary: 'show one entry: cause, symptom, check, action, mechanism …',
  about: [
    'Shows all that the knowledge base says under an id: a cause with its links, rules and base rate, a check with its outcomes, an action with its steps, and what each statement rests on. An id that several kinds share shows them all.',
  ],
  arguments: [{ name: 'ID', help: 'the id; peelpoint knowledge list shows them' }],
  options: { ...JSON_OPTION, ...KNOWLEDGE_OPTION },
  examples: ['peelpoint knowledge show insert-missing-or-worn', 'peelpoint knowledge show end-breaks'],
  run: async (given, terminal) => {
    const [word = ''] = given.arguments;
    const id = word.trim().toLowerCase();
    const knowledge = await openKnowledge(given);
    const entries = findEntries(id, knowledge);
    if (entries.length === 0) {
      const meant = nearestWord(id, idsOf(knowledge));
      throw argumentError(
        'ID',
        word,
        `is not in the knowledge base${meant === undefined ? '' : `; did you mean "${meant}"?`}`,
        [
          'an id of peelpoint knowledge list causes, symptoms, checks, actions, mechanisms, cautions, sources, fibres or end-uses',
        ],
      );
    }
    if (given.options.has('json')) printJson(terminal, entries);
    else {
      const page = startPage(terminal);
      entries.forEach((entry, index) => {
        if (index > 0) page.line();
        writeEntry(page, entry, knowledge);
      });
      page.print();
    }
    return EXIT.done;
  },
};

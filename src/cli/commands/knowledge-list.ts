import { oneOf } from '../arguments.js';
import { type Command, JSON_OPTION, KNOWLEDGE_OPTION, printJson } from '../command.js';
import { openKnowledge } from '../engine.js';
import { EXIT } from '../errors.js';
import { LISTS } from '../knowledge/lists.js';
import { startPage } from '../layout/page.js';

const KINDS = Object.keys(LISTS);

/** `peelpoint knowledge list`: what the knowledge base holds, and the words a case file may use. */
export const knowledgeList: Command = {
  name: 'knowledge list',
  summary: 'list causes, symptoms, checks, actions, and the words of case files',
  about: [
    `Lists the ids with their labels. KIND is one of: ${KINDS.join(', ')}. Without it the kinds are listed.`,
  ],
  arguments: [{ name: 'KIND', help: 'what to list', optional: true }],
  options: { ...JSON_OPTION, ...KNOWLEDGE_OPTION },
  examples: ['peelpoint knowledge list symptoms', 'peelpoint knowledge list setup'],
  run: async (given, terminal) => {
    const [word] = given.arguments;
    const kind = word === undefined ? undefined : oneOf('KIND', word, KINDS, 'a list');
    const knowledge = await openKnowledge(given);
    const json = given.options.has('json');
    const page = startPage(terminal);
    if (kind === undefined) {
      const kinds = Object.entries(LISTS).map(([name, list]) => ({
        kind: name,
        entries: list.entries(knowledge).length,
        about: list.about,
      }));
      if (json) printJson(terminal, kinds);
      else
        page.table(
          [{ title: 'Kind' }, { title: 'Entries', align: 'right' }, { title: 'Holds', wraps: true }],
          kinds.map((one) => [one.kind, String(one.entries), one.about]),
        );
    } else {
      const entries = LISTS[kind]?.entries(knowledge) ?? [];
      if (json) printJson(terminal, entries);
      else
        for (const group of new Set(entries.map((entry) => entry.group))) {
          if (group !== undefined) page.heading(group);
          page.table(
            [{ title: '' }, { title: '', wraps: true }],
            entries.filter((entry) => entry.group === group).map((entry) => [entry.id, entry.label]),
            group === undefined ? '' : '  ',
          );
        }
    }
    page.print();
    return EXIT.done;
  },
};

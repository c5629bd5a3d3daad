import { type Command, JSON_OPTION, printJson } from '../command.js';
import { existingKnowledgeFolder } from '../engine.js';
import { EXIT } from '../errors.js';
import { startPage } from '../layout/page.js';

/** `peelpoint knowledge check`: every problem of a knowledge base. */
export const knowledgeCheck: Command = {
  name: 'knowledge check',
  summary: 'check the knowledge base and name every problem',
  about: [
    'Checks every file of a knowledge base: its shape, the ids it refers to, circles among the links, facts no rule can see, and the cases of the examples. Each problem is named with file, line and field.',
    'Exit code 1 when there are problems.',
  ],
  arguments: [
    { name: 'DIR', help: 'the folder of the knowledge base; the one supplied when left out', optional: true },
  ],
  options: JSON_OPTION,
  examples: ['peelpoint knowledge check', 'peelpoint knowledge check ./knowledge-base'],
  run: async (given, terminal) => {
    const [named] = given.arguments;
    const { defaultKnowledgeFolder } = await import('../../rules/knowledge/load-knowledge.js');
    const { describeProblem } = await import('../../rules/knowledge/errors.js');
    const { inspectKnowledge } = await import('../knowledge/problems.js');
    const root = named === undefined ? defaultKnowledgeFolder() : existingKnowledgeFolder('DIR', named);
    const { knowledge, problems } = inspectKnowledge(root);
    const code = problems.length === 0 ? EXIT.done : EXIT.failed;
    if (given.options.has('json')) {
      printJson(terminal, { problems });
      return code;
    }
    const page = startPage(terminal);
    for (const problem of problems) page.text(describeProblem(problem), { first: '', rest: '    ' });
    if (knowledge === undefined || problems.length > 0)
      page.strong(`${problems.length} ${problems.length === 1 ? 'problem' : 'problems'}`);
    if (knowledge !== undefined) {
      const { book } = knowledge;
      page.text(
        `${book.causes.size} causes, ${book.mechanisms.size} mechanisms, ${book.symptoms.size} symptoms, ${book.checks.size} checks, ${book.actions.size} actions${problems.length === 0 ? ': no problems' : ''}.`,
      );
    }
    page.print();
    return code;
  },
};

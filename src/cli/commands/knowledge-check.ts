import type { Finding, Severity } from '../../rules/workshop/finding.js';
import { type Command, JSON_OPTION, printJson } from '../command.js';
import { existingKnowledgeFolder } from '../engine.js';
import { EXIT } from '../errors.js';
import { type Page, startPage } from '../layout/page.js';

/** `peelpoint knowledge check`: everything a keeper should know about a knowledge base. */
export const knowledgeCheck: Command = {
  name: 'knowledge check',
  summary: 'check the knowledge base and name every problem',
  about: [
    'Checks every file of a knowledge base: its shape, the ids it refers to, the cases of the examples; rules that never or always fire, repeat or contradict each other; nodes nothing leads to, circles, causes that nothing tells apart, a network too dense to compute; and what is missing or unused. Each finding is named with file, line and field.',
    'Warnings that stand in accepted-findings.yaml, and notes, are shown with --all only. Exit code 1 when there are errors.',
  ],
  arguments: [
    { name: 'DIR', help: 'the folder of the knowledge base; the one supplied when left out', optional: true },
  ],
  options: { ...JSON_OPTION, all: { help: 'show notes and accepted warnings too' } },
  examples: ['peelpoint knowledge check', 'peelpoint knowledge check ./knowledge-base --all'],
  run: async (given, terminal) => {
    const [named] = given.arguments;
    const { defaultKnowledgeFolder } = await import('../../rules/knowledge/load-knowledge.js');
    const { lintKnowledge } = await import('../../rules/workshop/lint-knowledge.js');
    const root = named === undefined ? defaultKnowledgeFolder() : existingKnowledgeFolder('DIR', named);
    const findings = lintKnowledge(root);
    const problems = findings.filter((one) => one.severity === 'error');
    const code = problems.length === 0 ? EXIT.done : EXIT.failed;
    if (given.options.has('json')) {
      printJson(terminal, { problems, findings });
      return code;
    }
    const page = startPage(terminal);
    const open = findings.filter((one) => one.severity !== 'note' && one.accepted === undefined);
    for (const finding of given.options.has('all') ? findings : open) writeFinding(page, finding);
    page.strong(sayCounts(findings));
    page.print();
    return code;
  },
};

function writeFinding(page: Page, finding: Finding): void {
  const place = finding.line === undefined ? finding.file : `${finding.file}:${finding.line}`;
  const accepted = finding.accepted === undefined ? '' : 'accepted ';
  page.text(`${place} ${accepted}${finding.severity}: ${finding.message}`, { first: '', rest: '    ' });
  page.faint(finding.accepted ?? finding.hint, '    ');
}

function sayCounts(findings: readonly Finding[]): string {
  const count = (severity: Severity) =>
    findings.filter((one) => one.severity === severity && one.accepted === undefined).length;
  const many = (number: number, word: string) => `${number} ${word}${number === 1 ? '' : 's'}`;
  const accepted = findings.filter((one) => one.accepted !== undefined).length;
  const errors = count('error');
  const warnings = count('warning');
  const rest = [
    ...(accepted > 0 ? [`${accepted} accepted with a reason`] : []),
    ...(count('note') > 0 ? [many(count('note'), 'note')] : []),
  ];
  const head =
    errors + warnings === 0
      ? 'no problems'
      : [
          ...(errors > 0 ? [many(errors, 'problem')] : []),
          ...(warnings > 0 ? [many(warnings, 'warning')] : []),
        ].join(', ');
  return rest.length === 0 ? head : `${head} (${rest.join(', ')}; --all shows them)`;
}

import { say } from '../../../language/say.js';
import { sourceText } from '../../../language/source-text.js';
import type { Finding } from '../../../rules/workshop/finding.js';
import type { KnowledgeCheckPage } from '../../../templates/models.js';
import type { KnowledgeState } from '../../knowledge-state.js';
import { entryHref, isKind } from './kinds.js';
import { sayMoment } from './state.js';

const GROUPS = ['error', 'warning', 'note'] as const;

/**
 * What the check of the files found, the gravest first; what the base accepts stands last, with its reason.
 * @param hasPage whether an address of the knowledge pages leads somewhere
 */
export function viewKnowledgeCheck(
  findings: readonly Finding[],
  state: KnowledgeState,
  hasPage: (href: string) => boolean,
): KnowledgeCheckPage {
  const view = (finding: Finding) => viewFinding(finding, hasPage);
  const open = findings.filter((one) => one.accepted === undefined);
  const accepted = findings.filter((one) => one.accepted !== undefined);
  const errors = open.filter((one) => one.severity === 'error').length;
  const warnings = open.filter((one) => one.severity === 'warning').length;
  return {
    checked: sayMoment(new Date()),
    version: state.version,
    since: sayMoment(state.since),
    kept: state.problems.length > 0,
    summary:
      errors + warnings === 0 ? say('knowledge.in-order') : say('knowledge.faulty', { errors, warnings }),
    groups: [
      ...GROUPS.map((severity) => ({
        id: severity,
        title: say(`knowledge.${severity}s`),
        about: say(`knowledge.${severity}s-about`),
        open: severity !== 'note',
        findings: open.filter((one) => one.severity === severity).map(view),
      })),
      {
        id: 'accepted',
        title: say('knowledge.accepted'),
        about: say('knowledge.accepted-about'),
        open: false,
        findings: accepted.map(view),
      },
    ].filter((group) => group.findings.length > 0),
  };
}

function viewFinding(finding: Finding, hasPage: (href: string) => boolean) {
  const { severity, code, file, line, message, hint, accepted } = finding;
  const href = pageOf(file);
  return {
    severity: say(`knowledge.${severity}`),
    place: line === undefined ? file : `${file}:${line}`,
    href: hasPage(href) ? href : '',
    kind: sourceText(code.replaceAll('-', ' ')),
    message: sourceText(message),
    hint:
      accepted === undefined
        ? sourceText(hint)
        : say('knowledge.accepted-because', { why: sourceText(accepted) }),
  };
}

/** The page of the entry that a file holds, if it has one. */
function pageOf(file: string): string {
  const [, folder = '', id = ''] = /^([a-z-]+)\/([a-z0-9-]+)\.yaml$/.exec(file) ?? [];
  return isKind(folder) ? entryHref(folder, id) : '';
}

import type { Finding, Severity } from '../../../rules/workshop/finding.js';
import type { KnowledgeCheckPage } from '../../../templates/models.js';
import type { KnowledgeState } from '../../knowledge-state.js';
import { entryHref, isKind } from './kinds.js';
import { sayMoment } from './state.js';

const GROUPS: readonly { readonly severity: Severity; readonly title: string; readonly about: string }[] = [
  { severity: 'error', title: 'Errors', about: 'must be put right' },
  { severity: 'warning', title: 'Warnings', about: 'to be put right, or accepted with a reason' },
  { severity: 'note', title: 'Notes', about: 'worth knowing' },
];

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
  const many = (count: number, word: string) =>
    `${count === 0 ? 'no' : count} ${word}${count === 1 ? '' : 's'}`;
  return {
    checked: sayMoment(new Date()),
    version: state.version,
    since: sayMoment(state.since),
    kept: state.problems.length > 0,
    summary:
      errors + warnings === 0
        ? 'The files are in order: no errors, no open warnings.'
        : `The files have ${many(errors, 'error')} and ${many(warnings, 'open warning')}.`,
    groups: [
      ...GROUPS.map(({ severity, title, about }) => ({
        id: severity,
        title,
        about,
        open: severity !== 'note',
        findings: open.filter((one) => one.severity === severity).map(view),
      })),
      {
        id: 'accepted',
        title: 'Accepted',
        about: 'let stand, each with its reason',
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
    severity,
    place: line === undefined ? file : `${file}:${line}`,
    href: hasPage(href) ? href : '',
    kind: code.replaceAll('-', ' '),
    message,
    hint: accepted === undefined ? hint : `Accepted: ${accepted}`,
  };
}

/** The page of the entry that a file holds, if it has one. */
function pageOf(file: string): string {
  const [, folder = '', id = ''] = /^([a-z-]+)\/([a-z0-9-]+)\.yaml$/.exec(file) ?? [];
  return isKind(folder) ? entryHref(folder, id) : '';
}

/** How bad a finding is: an error must be put right, a warning put right or accepted with a reason. */
export type Severity = 'error' | 'warning' | 'note';

/** Something about a knowledge base that its keeper should look at. */
export interface Finding {
  readonly severity: Severity;
  /** Kind of mistake, one word for all findings alike. */
  readonly code: FindingCode;
  /** Path below the knowledge-base folder. */
  readonly file: string;
  readonly line?: number;
  /** Dotted path of the field; empty for the file as a whole. */
  readonly field: string;
  readonly message: string;
  /** What to do about it. */
  readonly hint: string;
  /** Why it is let stand, when the list of accepted findings names it. */
  readonly accepted?: string;
}

/** Every kind of finding with the severity it always has. */
export const FINDING_CODES = {
  unreadable: 'error',
  reference: 'error',
  'unreadable-case': 'error',
  cycle: 'error',
  'no-parent': 'error',
  'no-effect': 'error',
  'wrong-type': 'error',
  'impossible-value': 'error',
  'never-fires': 'error',
  'always-fires': 'error',
  'dead-link': 'error',
  contradiction: 'error',
  'duplicate-condition': 'error',
  subsumed: 'warning',
  cancelled: 'warning',
  moot: 'warning',
  'not-told-apart': 'warning',
  'few-causes': 'warning',
  'no-distinguishing-check': 'warning',
  'in-degree': 'warning',
  width: 'warning',
  'base-rates': 'warning',
  'no-examples': 'warning',
  'unused-action': 'warning',
  'unused-caution': 'note',
  'unused-outcome': 'warning',
  'unused-source': 'note',
  'to-do': 'warning',
  'stale-acceptance': 'warning',
} as const satisfies Record<string, Severity>;

/** Kind of finding. */
export type FindingCode = keyof typeof FINDING_CODES;

/** What a check finds, before file positions are looked up. */
export interface Draft {
  readonly code: FindingCode;
  readonly file: string;
  /** Field the finding is about, as keys and list positions. */
  readonly path: readonly PropertyKey[];
  readonly message: string;
  readonly hint: string;
}

const ORDER: readonly Severity[] = ['error', 'warning', 'note'];

/** Errors first, then by file and line. */
export function compareFindings(a: Finding, b: Finding): number {
  return (
    ORDER.indexOf(a.severity) - ORDER.indexOf(b.severity) ||
    a.file.localeCompare(b.file) ||
    (a.line ?? 0) - (b.line ?? 0) ||
    a.message.localeCompare(b.message)
  );
}

/** `causes/x.yaml:12 warning subsumed: …`. */
export function describeFinding(finding: Finding): string {
  const place = finding.line === undefined ? finding.file : `${finding.file}:${finding.line}`;
  return `${place} ${finding.severity} ${finding.code}: ${finding.message}`;
}

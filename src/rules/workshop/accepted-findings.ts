import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { readYaml } from '../knowledge/yaml-file.js';
import { compareFindings, FINDING_CODES, type Finding, type FindingCode } from './finding.js';

const FILE = 'accepted-findings.yaml';
const text = z.string().trim().min(1);

/** `accepted-findings.yaml`: findings that are let stand, each with the reason. */
export const acceptedFindingsSchema = z.array(
  z.strictObject({
    code: z.enum(Object.keys(FINDING_CODES) as [FindingCode, ...FindingCode[]]),
    file: text,
    /** Part of the message; needed only where a file has several findings of the kind. */
    about: text.optional(),
    because: text,
  }),
);
type Acceptance = z.infer<typeof acceptedFindingsSchema>[number];

/**
 * Marks the findings that the knowledge base accepts. Errors cannot be accepted. An acceptance that matches nothing
 * is itself a finding, so that the list does not outlive its reasons.
 *
 * @param complete whether everything was looked at; otherwise nothing can be said of acceptances that match nothing
 */
export function applyAcceptances(root: string, findings: readonly Finding[], complete = true): Finding[] {
  const path = join(root, FILE);
  if (!existsSync(path)) return [...findings];
  const result = readYaml(FILE, readFileSync(path, 'utf8'), acceptedFindingsSchema);
  if (!result.ok)
    return [
      ...findings,
      ...result.problems.map((problem) => ({
        severity: FINDING_CODES.unreadable,
        code: 'unreadable' as const,
        file: FILE,
        ...(problem.line === undefined ? {} : { line: problem.line }),
        field: problem.field,
        message: `${problem.field} ${problem.message}`.trim(),
        hint: 'Each entry has code, file, about (optional) and because.',
      })),
    ].sort(compareFindings);
  const used = new Set<Acceptance>();
  const marked = findings.map((finding) => {
    const reason = result.value.find((one) => matches(one, finding));
    if (reason === undefined || finding.severity === 'error') return finding;
    used.add(reason);
    return { ...finding, accepted: reason.because };
  });
  const stale = (complete ? result.value : [])
    .filter((one) => !used.has(one))
    .map(
      (one): Finding => ({
        severity: FINDING_CODES['stale-acceptance'],
        code: 'stale-acceptance',
        file: FILE,
        field: '',
        message: `nothing is found any more of "${one.code}" in ${one.file}${one.about === undefined ? '' : ` about "${one.about}"`}`,
        hint: 'Take the entry out.',
      }),
    );
  return [...marked, ...stale].sort(compareFindings);
}

function matches(one: Acceptance, finding: Finding): boolean {
  return (
    one.code === finding.code &&
    one.file === finding.file &&
    (one.about === undefined || finding.message.includes(one.about))
  );
}

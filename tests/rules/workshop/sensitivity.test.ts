import { beforeAll, describe, expect, it } from 'vitest';
import { readCaseObject } from '../../../src/rules/case/case-file.js';
import type { CaseInput } from '../../../src/rules/case/types.js';
import { createDiagnostician } from '../../../src/rules/diagnosis/diagnose.js';
import type { Diagnostician } from '../../../src/rules/diagnostician.js';
import { loadKnowledge } from '../../../src/rules/knowledge/load-knowledge.js';
import { findSensitivities, type SensitivityReport } from '../../../src/rules/workshop/sensitivity.js';

let diagnostician: Diagnostician;
let input: CaseInput;
let report: SensitivityReport;
let ranking: ReadonlyMap<string, number>;

beforeAll(async () => {
  diagnostician = createDiagnostician(loadKnowledge());
  const reading = readCaseObject(
    {
      setup: { fibre: 'cotton', count: '20 Ne', 'end-use': 'knitting', tube: { insert: '2-groove' } },
      observations: { 'end-breaks': 'marked', hairy: 'absent' },
      scope: 'position',
      onset: 'since-change',
      changed: ['cleaning-round'],
      findings: { 'broken-tail': 'tapering' },
    },
    diagnostician.vocabulary,
  );
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  input = reading.case;
  const { causes } = await diagnostician.rank(input);
  ranking = new Map(causes.map((cause) => [cause.id, cause.probability]));
  report = await findSensitivities(diagnostician.knowledge, input);
});

describe('what an answer hangs on', () => {
  it('starts from the same answer as the diagnosis', () => {
    expect(report.leader).toBe([...ranking.keys()][0]);
    for (const { changes } of report.sensitivities)
      for (const { cause, before } of changes) expect(before).toBeCloseTo(ranking.get(cause) ?? -1, 10);
  });

  it('sorts by the largest change, and tries base rates and links', () => {
    const sizes = report.sensitivities.map((one) => one.largest);
    expect(sizes).toEqual([...sizes].sort((a, b) => b - a));
    expect(new Set(report.sensitivities.map((one) => one.kind))).toContain('base-rate');
    expect(new Set(report.sensitivities.map((one) => one.kind))).toContain('link');
    expect(sizes[0]).toBeGreaterThan(0.02);
  });

  it('moves a cause with its own base rate, as a knowledge base with that base rate does', async () => {
    const step = report.sensitivities.find(
      (one) =>
        one.kind === 'base-rate' &&
        one.file === `causes/${report.leader}.yaml` &&
        Number(one.to) > Number(one.from),
    );
    const change = step?.changes.find((one) => one.cause === report.leader);
    expect(change?.after).toBeGreaterThan(change?.before ?? 1);
    const { knowledge } = diagnostician;
    const cause = knowledge.book.causes.get(report.leader);
    if (cause === undefined) throw new Error('no leader');
    const causes = new Map(knowledge.book.causes).set(cause.id, {
      ...cause,
      prior: { ...cause.prior, base: 2 * cause.prior.base },
    });
    const other = createDiagnostician({ ...knowledge, book: { ...knowledge.book, causes } });
    const { causes: then } = await other.rank(input);
    expect(change?.after).toBeCloseTo(then.find((one) => one.id === cause.id)?.probability ?? -1, 8);
  });

  it('moves a link as a knowledge base with that link does', async () => {
    const step = report.sensitivities.find((one) => one.kind === 'link' && one.file.startsWith('causes/'));
    const id = step?.file.slice('causes/'.length, -'.yaml'.length) ?? '';
    const { knowledge } = diagnostician;
    const cause = knowledge.book.causes.get(id);
    if (step === undefined || cause === undefined) throw new Error('no link of a cause was tried');
    const links = cause['leads-to'].flatMap((link) => {
      const child = linkLabel(link.to);
      if (!step.what.endsWith(`“${child}”`)) return [link];
      return step.to === 'no link' ? [] : [{ ...link, strength: step.to as typeof link.strength }];
    });
    const causes = new Map(knowledge.book.causes).set(id, { ...cause, 'leads-to': links });
    const other = createDiagnostician({ ...knowledge, book: { ...knowledge.book, causes } });
    const { causes: then } = await other.rank(input);
    for (const change of step.changes)
      expect(change.after).toBeCloseTo(then.find((one) => one.id === change.cause)?.probability ?? -1, 8);
  });

  it('keeps to the number of steps it may try, and says what it left out', async () => {
    const few = await findSensitivities(diagnostician.knowledge, input, { steps: 4, causes: 2 });
    expect(few.sensitivities).toHaveLength(4);
    expect(few.leftOut).toBeGreaterThan(0);
    expect(few.sensitivities.every((one) => one.kind === 'base-rate')).toBe(true);
  });

  it('names the new leader where a step changes it', () => {
    for (const one of report.sensitivities) {
      const top = [...one.changes].sort((a, b) => b.after - a.after)[0];
      if (one.leader === undefined) expect(top?.cause).toBe(report.leader);
      else expect(one.leader).not.toBe(report.leader);
    }
  });
});

function linkLabel(node: string): string {
  const { book } = diagnostician.knowledge;
  const [head = '', state] = node.split(':');
  if (state === undefined) return book.symptoms.get(head)?.label ?? node;
  return (
    book.mechanisms.get(head)?.states[state]?.label ?? book.checks.get(head)?.outcomes[state]?.label ?? ''
  );
}

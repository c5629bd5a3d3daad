import { inOneTransaction, type Journal, openCase, recordStep } from '../../../src/journal/index.js';
import { readCaseObject } from '../../../src/rules/case/case-file.js';
import { createDiagnostician } from '../../../src/rules/diagnosis/diagnose.js';
import { loadKnowledge } from '../../../src/rules/knowledge/load-knowledge.js';

/** What is told of a case of the small knowledge base, and its cause there. */
const TOLD = [
  { cause: 'worn', input: { setup: { fibre: 'cotton', count: '20 Ne' }, findings: { look: 'track' } } },
  { cause: 'dirty', input: { setup: { fibre: 'cotton', count: '20 Ne' }, findings: { look: 'dust' } } },
] as const;

/** Closes cases whose causes the small knowledge base of a folder can tell, with what it says of them. */
export async function closeSmallCases(journal: Journal, root: string, count: number): Promise<void> {
  const diagnostician = createDiagnostician(loadKnowledge(root));
  const told = await Promise.all(
    TOLD.map(async ({ cause, input }) => {
      const reading = readCaseObject(input, diagnostician.vocabulary);
      if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
      const { knowledgeVersion, causes } = await diagnostician.rank(reading.case);
      const ranked = causes.map(({ id, probability }) => ({ id, probability }));
      return { cause, input, diagnosis: { knowledgeVersion, causes: ranked } };
    }),
  );
  await inOneTransaction(journal, async (inner) => {
    for (let n = 0; n < count; n++) {
      const one = told[n % told.length];
      if (one === undefined) continue;
      const by = (minute: number) => ({
        who: 'Ruth',
        at: new Date(Date.UTC(2026, 0, 1, n, minute)).toISOString(),
      });
      const { cause, input, diagnosis } = one;
      const opened = await openCase(
        inner,
        { title: `Case ${n + 1}`, diagnosis: { input, diagnosis } },
        by(0),
      );
      const looked = await recordStep(
        inner,
        { id: opened.id, seen: opened.version },
        { step: 'check-made', check: 'look', outcomes: [input.findings.look], minutes: 2 },
        by(10),
      );
      await recordStep(
        inner,
        { id: opened.id, seen: looked.version },
        { step: 'closed', cause, how: 'by-look', cost: {} },
        by(20),
      );
    }
  });
}

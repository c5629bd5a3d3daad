/**
 * Simulated trainees on 500 dealt cases: the best policy must need no more minutes than any simple one, level by level
 * within the scatter and over all cases without doubt. Run by hand (some minutes):
 *
 *     npx tsx tests/torture/training-policies.ts [number of cases]
 */
import { createDiagnostician } from '../../src/rules/diagnosis/diagnose.js';
import { defaultKnowledgeFolder, loadKnowledge } from '../../src/rules/knowledge/load-knowledge.js';
import {
  dealCase,
  loadTraining,
  openTrainingRoom,
  POLICIES,
  type PolicyName,
  type PracticeLevel,
  runPolicy,
} from '../../src/rules/training/index.js';

async function run(most: number): Promise<number> {
  const knowledge = loadKnowledge();
  const diagnostician = createDiagnostician(knowledge);
  const room = openTrainingRoom(
    diagnostician,
    loadTraining(defaultKnowledgeFolder(), knowledge, diagnostician.vocabulary),
  );
  const totals = new Map<PolicyName, { level: number; total: number }[]>(
    POLICIES.map((policy) => [policy, []]),
  );
  let refused = 0;
  for (let seed = 1; seed <= most; seed++) {
    const level = (1 + ((seed - 1) % 5)) as PracticeLevel;
    try {
      const dealt = await dealCase(room, { level, seed });
      for (const policy of POLICIES)
        totals.get(policy)?.push({ level, total: (await runPolicy(room, dealt, policy)).total });
    } catch (error) {
      refused++;
      console.log(`${level}-${seed}: ${error instanceof Error ? error.message : String(error)}`);
    }
    if (seed % 50 === 0) console.log(`${seed} cases`);
  }
  const summary = (rows: readonly { total: number }[]) => {
    const mean = rows.reduce((sum, row) => sum + row.total, 0) / rows.length;
    const square = rows.reduce((sum, row) => sum + (row.total - mean) ** 2, 0);
    return { mean, error: Math.sqrt(square / Math.max(1, rows.length - 1) / rows.length) };
  };
  let failed = refused > most / 100 ? 1 : 0;
  const best = totals.get('best') ?? [];
  for (const policy of POLICIES) {
    const rows = totals.get(policy) ?? [];
    const { mean, error } = summary(rows);
    const levels = [1, 2, 3, 4, 5].map((level) => {
      const own = rows.map((row, i) => ({ ...row, lead: row.total - (best[i]?.total ?? 0) }));
      const of = own.filter((row) => row.level === level);
      const lead = summary(of.map((row) => ({ total: row.lead })));
      if (policy !== 'best' && lead.mean < -2 * lead.error) failed = 1;
      return `${level}: ${summary(of).mean.toFixed(0)}`;
    });
    console.log(
      `${policy.padEnd(12)} ${mean.toFixed(1)} ± ${error.toFixed(1)} min   by level ${levels.join('  ')}`,
    );
    if (policy !== 'best' && mean < summary(best).mean) failed = 1;
  }
  console.log(`${refused} numbers gave no case.`);
  console.log(failed === 0 ? 'Ranked as they should be.' : 'NOT ranked as they should be.');
  return failed;
}

void run(Number(process.argv[2] ?? 500)).then((code) => {
  process.exitCode = code;
});

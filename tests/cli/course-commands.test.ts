import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  addCourse,
  findPracticeCase,
  keepAttempt,
  openJournal,
  setCourseState,
} from '../../src/journal/index.js';
import { run, unwrapped } from './fake-terminal.js';

const root = mkdtempSync(join(tmpdir(), 'peelpoint-course-commands-'));
const data = join(root, 'data');
const by = { who: 'Ruth' };
beforeAll(async () => {
  const journal = await openJournal({ folder: data });
  const course = await addCourse(
    journal,
    {
      title: 'Twist',
      group: 'Shift A',
      items: [{ id: 'part-a', kind: 'lesson', lesson: 'false-twist', minutes: 10 }],
    },
    by,
  );
  await setCourseState(journal, course.id, 'open', by);
  await keepAttempt(
    journal,
    {
      course: course.id,
      item: 'part-a',
      kind: 'lesson',
      trainee: '=Ada',
      knowledge: 'v1',
      result: { lesson: 'false-twist', title: 'False twist', right: 2, of: 3, answers: [0, 1, 2] },
    },
    by,
  );
  await journal.close();
});
afterAll(() => rmSync(root, { recursive: true, force: true }));
const file = (text: string) => {
  const path = join(root, 'own.yaml');
  writeFileSync(path, text);
  return path;
};

describe('peelpoint course', () => {
  it('lists courses and prints what was handed in, formulas made harmless', async () => {
    const listed = await run(['course', 'list', '--data', data]);
    expect(listed.out).toMatch(/course-1\s+Twist\s+Shift A\s+open\s+1\s+1\s+1/);
    const csv = await run(['course', 'export', 'course-1', '--data', data]);
    expect(csv.code).toBe(0);
    expect(csv.out).toContain(`"'=Ada"`);
    const json = JSON.parse((await run(['course', 'export', 'course-1', '--data', data, '--json'])).out);
    expect(json.results).toMatchObject([{ trainee: '=Ada', right: 2, of: 3, kind: 'lesson' }]);
    const missing = await run(['course', 'export', 'course-9', '--data', data]);
    expect(missing.code).toBe(2);
    expect(unwrapped(missing.err)).toContain('There is no course "course-9"');
  });
});

const TEXT = `setup: {fibre: cotton, count: 20 Ne, end-use: knitting, tube: {insert: 2-groove}}
observations: {end-breaks: marked}
scope: position
onset: since-change
changed: [cleaning-round]
`;

describe('peelpoint practice check and keep', () => {
  it('say whether the product agrees, and keep what is wanted', async () => {
    const right = file(`${TEXT}answer-key: {causes: [insert-missing-or-worn]}\n`);
    const checked = await run(['practice', 'check', right]);
    expect(checked.code).toBe(0);
    expect(unwrapped(checked.out)).toContain('The key agrees');
    const kept = await run(['practice', 'keep', right, '--title', 'Since the cleaning', '--data', data]);
    expect(kept.code).toBe(0);
    expect(kept.out).toContain('/training/practice?case=own-1.1');
    expect((await run(['practice', 'keep', right, '--data', data])).code).toBe(2);
    const wrong = file(`${TEXT}answer-key: {causes: [wax-fault]}\n`);
    const refused = await run(['practice', 'check', wrong]);
    expect(refused.code).toBe(1);
    expect(unwrapped(refused.out)).toContain('What the product puts first');
    const not = await run(['practice', 'keep', wrong, '--title', 'Waxed', '--data', data]);
    expect(not.code).toBe(1);
    expect(not.err).toContain('--anyway');
    const anyway = await run(['practice', 'keep', wrong, '--title', 'Waxed', '--anyway', '--data', data]);
    expect(anyway.code).toBe(0);
    const journal = await openJournal({ folder: data });
    expect(await findPracticeCase(journal, 'own-2')).toMatchObject({ agrees: false, title: 'Waxed' });
    await journal.close();
    expect((await run(['practice', 'check', file('setup: 3\n')])).code).toBe(2);
  }, 60_000);
});

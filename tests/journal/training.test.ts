import { beforeAll, expect, it } from 'vitest';
import {
  addCourse,
  addPracticeCase,
  changeCourse,
  changePracticeCase,
  findAttempt,
  findCourse,
  findPracticeCase,
  historyOfCourse,
  type Journal,
  joinCourse,
  keepAttempt,
  listAttempts,
  listCourses,
  listMembers,
  listPracticeCases,
  moveJournal,
  openJournal,
  StaleError,
  setCourseState,
} from '../../src/journal/index.js';
import { by, describeOnBothEngines } from './engines.js';

const LESSON = { id: 'part-1', kind: 'lesson', lesson: 'false-twist', minutes: 10 } as const;
const CASE = { id: 'part-2', kind: 'case', code: '2-7', minutes: 12, note: 'Let them work alone.' } as const;

describeOnBothEngines('courses', (on) => {
  let journal: Journal;
  beforeAll(async () => {
    journal = await on.newJournal();
  });
  const attempt = (course: string, trainee: string) => ({
    course,
    item: 'part-2',
    kind: 'case' as const,
    trainee,
    knowledge: 'v1',
    result: { brier: 0.25, truth: ['nozzle-worn'] },
    sheet: { moves: ['c:groove-look'] },
  });

  it('are made, changed and opened, with a history that keeps every state', async () => {
    const made = await addCourse(journal, { title: ' Twist ', group: 'Shift A', items: [LESSON] }, by());
    expect(made).toMatchObject({ id: 'course-1', version: 1, state: 'draft', title: 'Twist' });
    await changeCourse(journal, made.id, 1, { title: 'Twist', items: [CASE, LESSON] }, by());
    await setCourseState(journal, made.id, 'open', by());
    const now = await findCourse(journal, made.id);
    expect(now).toMatchObject({ version: 3, state: 'open', group: '' });
    expect(now.items.map((item) => item.id)).toEqual(['part-2', 'part-1']);
    expect((await historyOfCourse(journal, made.id)).map((entry) => entry.step)).toEqual([
      'added',
      'changed',
      'state',
    ]);
    await expect(changeCourse(journal, made.id, 1, { title: 'Old', items: [] }, by())).rejects.toBeInstanceOf(
      StaleError,
    );
    await expect(addCourse(journal, { title: 'Twice', items: [LESSON, LESSON] }, by())).rejects.toMatchObject(
      { fault: 'input' },
    );
    await expect(findCourse(journal, 'course-99')).rejects.toMatchObject({ fault: 'not-found' });
  });

  it('let trainees in while they are open, once each', async () => {
    const { id } = await addCourse(journal, { title: 'Tension' }, by());
    await expect(joinCourse(journal, id, 'Ada', by())).rejects.toMatchObject({ fault: 'refused' });
    await setCourseState(journal, id, 'open', by());
    await joinCourse(journal, id, 'Ben', by());
    await joinCourse(journal, id, ' Ada ', by());
    await joinCourse(journal, id, 'Ada', by());
    expect((await listMembers(journal, id)).map((one) => one.trainee)).toEqual(['Ada', 'Ben']);
    await setCourseState(journal, id, 'closed', by());
    expect((await listCourses(journal)).map((one) => one.state)).toEqual(['open', 'closed']);
  });

  it('keep attempts whole, each once, by whom and in which order', async () => {
    const { id } = await addCourse(journal, { title: 'Insert', items: [CASE] }, by());
    const key = 'form-11111111';
    const first = await keepAttempt(journal, attempt(id, 'Ada'), by(undefined, 'Ada', key));
    expect(await keepAttempt(journal, attempt(id, 'Ada'), by(undefined, 'Ada', key))).toEqual(first);
    await expect(
      keepAttempt(journal, { ...attempt(id, 'Ada'), knowledge: 'v2' }, by(undefined, 'Ada', key)),
    ).rejects.toMatchObject({ fault: 'reused-key' });
    await keepAttempt(journal, { ...attempt(id, 'Ben'), sheet: null }, by());
    await keepAttempt(journal, attempt(id, 'Ada'), by());
    expect((await listAttempts(journal, id)).map((one) => one.trainee)).toEqual(['Ada', 'Ben', 'Ada']);
    expect((await listAttempts(journal, id, 'Ada')).map((one) => one.number)).toEqual([1, 3]);
    expect(await findAttempt(journal, id, 1)).toEqual({ ...first, sheet: { moves: ['c:groove-look'] } });
    expect((await findAttempt(journal, id, 2)).sheet).toBeNull();
    expect((await listMembers(journal, id)).map((one) => one.trainee)).toEqual(['Ada', 'Ben']);
    await expect(findAttempt(journal, id, 9)).rejects.toMatchObject({ fault: 'not-found' });
    await expect(keepAttempt(journal, attempt('course-99', 'Ada'), by())).rejects.toMatchObject({
      fault: 'not-found',
    });
  });

  it('keep every version of a practice case', async () => {
    const input = {
      title: 'Insert left out',
      text: 'setup: {}\n',
      origin: 'written' as const,
      agrees: true,
      knowledge: 'v1',
    };
    const made = await addPracticeCase(journal, input, by());
    expect(made.id).toBe('own-1');
    expect(
      await changePracticeCase(journal, made.id, 1, { ...input, text: 'setup: {fibre: cotton}\n' }, by()),
    ).toBe(2);
    await changePracticeCase(journal, made.id, 2, { ...input, retired: true }, by());
    expect((await findPracticeCase(journal, made.id, 1)).text).toBe('setup: {}');
    expect((await findPracticeCase(journal, made.id, 2)).text).toBe('setup: {fibre: cotton}');
    expect(await findPracticeCase(journal, made.id)).toMatchObject({ version: 3, retired: true });
    await expect(findPracticeCase(journal, made.id, 7)).rejects.toMatchObject({ fault: 'not-found' });
    await expect(changePracticeCase(journal, made.id, 1, input, by())).rejects.toBeInstanceOf(StaleError);
    expect(await listPracticeCases(journal)).toHaveLength(1);
  });

  it('move with the journal, sheets included', async () => {
    const target = await openJournal(await on.newPlace());
    await moveJournal(journal, target);
    expect(await listCourses(target)).toEqual(await listCourses(journal));
    expect(await findAttempt(target, 'course-3', 1)).toEqual(await findAttempt(journal, 'course-3', 1));
    expect(await listPracticeCases(target)).toEqual(await listPracticeCases(journal));
    await target.close();
  });
});

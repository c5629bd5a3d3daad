import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  addCourse,
  type CourseItemRecord,
  findAttempt,
  findCourse,
  findPracticeCase,
  joinCourse,
  listAttempts,
  listFrames,
  listLots,
  searchCases,
  searchComplaints,
  setCourseState,
} from '../../../src/journal/index.js';
import { sayParts } from '../../../src/server/training/course-words.js';
import { trainingRoom } from '../../rules/training/fixture.js';
import { formFields, page, post, textOf } from '../site.js';
import { type JournalSite, openJournalSite, send } from './journal-site.js';

let site: JournalSite;
beforeAll(async () => {
  site = await openJournalSite();
});
afterAll(async () => site?.close());

const CODE = '1-2';
const as = (name: string) => ({ Cookie: `name=${encodeURIComponent(name)}` });
const ORIGIN = 'http://plant.test';
const locationOf = async (response: Response | Promise<Response>, status = 303) => {
  const answer = await response;
  if (answer.status !== status) throw new Error(`${answer.status} ${await answer.text()}`);
  return answer.headers.get('location') ?? '';
};
const postAs = (name: string, path: string, fields: readonly (readonly [string, string])[]) =>
  Promise.resolve(
    site.app.request(`${ORIGIN}${path}`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/x-www-form-urlencoded', Origin: ORIGIN, ...as(name) },
      body: new URLSearchParams(fields.map(([key, value]): [string, string] => [key, value])).toString(),
    }),
  );
/** Fields of the form of a page that is sent to an address. */
const formOf = (html: string, action: string): [string, string][] => {
  const at = html.indexOf(`action="${action}"`);
  return formFields(html.slice(at, html.indexOf('</form>', at)));
};
const replaced = (fields: readonly [string, string][], values: Readonly<Record<string, string>>) => [
  ...fields.filter(([name]) => values[name] === undefined),
  ...Object.entries(values),
];

/** An open course with one practice case and a lesson, and Ada in it. */
async function smallCourse(): Promise<string> {
  const who = { who: 'Ruth' };
  const course = await addCourse(
    site.journal,
    {
      title: 'Small',
      items: [
        { id: 'part-a', kind: 'case', code: CODE, minutes: 10 },
        { id: 'part-b', kind: 'lesson', lesson: 'false-twist', minutes: 5 },
      ],
    },
    who,
  );
  await setCourseState(site.journal, course.id, 'open', who);
  await joinCourse(site.journal, course.id, 'Ada', who);
  return course.id;
}

/** Begins the practice case of the small course and gives the fields its forms carry. */
async function begin(id: string, name = 'Ada'): Promise<[string, string][]> {
  const begun = await locationOf(
    site.app.request(`${ORIGIN}/training/courses/${id}/parts/part-a`, { headers: as(name) }),
  );
  const html = await page(site.app, begun, 200, as(name));
  expect(html).toContain(`href="/training/courses/${id}">The course`);
  return formOf(html, '/training/practice');
}

describe('a class from the app alone', () => {
  it('begins with the ready course on an empty list, once however often the form is sent', async () => {
    const empty = await page(site.app, '/training/courses');
    expect(empty).toContain('There is no course yet');
    expect(textOf(empty)).toContain('Ready to be given: First hour');
    const fields = replaced(formOf(empty, '/training/courses/first-hour'), { who: 'Ruth', group: 'Shift B' });
    const wrong = await post(site.app, '/training/courses/first-hour', replaced(fields, { who: '' }));
    expect(wrong.status).toBe(422);
    expect(await wrong.text()).toContain('Shift B');
    const made = await locationOf(post(site.app, '/training/courses/first-hour', fields));
    expect(await locationOf(post(site.app, '/training/courses/first-hour', fields))).toBe(made);
    const text = textOf(await page(site.app, made));
    expect(text).toContain('Shift B · Open');
    expect(text).toContain('Who are you?');
    expect(text).toContain('Case 1-7 on the wall');
    // The lesson stands in it twice: gone through first, asked about last.
    for (const html of [textOf(empty), text]) {
      expect(html).toContain('False twist, the turns that vanish: the lesson');
      expect(html).toContain('False twist, the turns that vanish: the questions');
    }
  });

  it('calls no two parts of a course the same', async () => {
    const hall = { room: trainingRoom() };
    const [lesson = '', other = ''] = hall.room.material.lessons.map((one) => one.id);
    const part = (more: object, n: number) =>
      ({ id: `part-${n}`, minutes: 5, note: '', ...more }) as CourseItemRecord;
    const titles = (...items: object[]) => sayParts(items.map(part), hall, []).map((one) => one.title);
    const taught = { kind: 'lesson', lesson };
    const practised = { kind: 'case', code: '1-2' };
    for (const items of [
      [taught, taught],
      [taught, taught, taught],
      [practised, practised, taught],
      [taught, { kind: 'lesson', lesson: other }],
    ]) {
      const said = titles(...items);
      expect(new Set(said).size, said.join(' / ')).toBe(items.length);
    }
    expect(titles(taught, practised)).not.toContainEqual(expect.stringContaining('the lesson'));
    expect(titles(practised, practised)).toEqual(['Practice 1-2 (1)', 'Practice 1-2 (2)']);
  });

  it('is walked through with its minutes, and has a handout without the answers', async () => {
    const { id } = await findCourse(site.journal, 'course-1');
    const before = textOf(await page(site.app, `/training/courses/${id}/class`));
    expect(before).toContain('59 minutes in all');
    const begun = await locationOf(site.app.request(`${ORIGIN}/training/courses/${id}/class?begin=now`));
    const first = await page(site.app, begun);
    expect(first).toContain('rel="next"');
    expect(textOf(first)).toContain('minute 0 to 12');
    expect(textOf(first)).toContain('0 minutes into the class');
    const replay = await page(site.app, `/training/courses/${id}/class?at=2`);
    const wall = /href="([^"]*view=projector[^"]*)"/.exec(replay)?.[1]?.replace(/&amp;/g, '&') ?? '';
    expect(await page(site.app, wall)).toContain('replay projector');
    const late = `/training/courses/${id}/class?at=3&began=${Date.now() - 40 * 60_000}`;
    expect(textOf(await page(site.app, late))).toContain('18 minutes behind');
    const last = await page(site.app, `/training/courses/${id}/class?at=99`);
    expect(last).not.toContain('rel="next"');
    expect(textOf(last)).toContain('What was mixed up');
    const handout = await page(site.app, `/training/courses/${id}/handout`);
    expect(handout.split('empty-box').length).toBeGreaterThan(6);
    expect(handout).not.toContain('verdict');
  });

  it('lets a trainee take part, and says who has to be named', async () => {
    const wrong = await post(site.app, '/training/courses/course-1/join', [['who', ' ']]);
    expect(wrong.status).toBe(422);
    const joined = await post(site.app, '/training/courses/course-1/join', [['who', 'Ben']]);
    expect(joined.headers.get('set-cookie')).toContain('name=Ben');
    const text = textOf(await page(site.app, '/training/courses/course-1', 200, as('Ben')));
    expect(text).toContain('Ben : 0 of 4 handed in');
    expect(text).not.toContain('Who are you?');
    const stranger = await page(site.app, '/training/courses/course-1', 200, as('Zoe'));
    expect(stranger).toContain('name="who" value="Ben"');
    expect(stranger).not.toContain('/parts/part-');
  });
});

describe('a trainee in a course', () => {
  it('has a case marked and kept once, even when it is handed in twice', async () => {
    const id = await smallCourse();
    const fields = [
      ...(await begin(id)),
      ['m', 'c:groove-look'],
      ['m', 'p:nozzle-worn=90'],
      ['do', 'close'],
    ] as [string, string][];
    const handed = await locationOf(postAs('Ada', '/training/practice', fields));
    expect(handed).toBe(`/training/courses/${id}/attempts/1`);
    expect(await locationOf(postAs('Ada', '/training/practice', fields))).toBe(`${handed}?again=yes`);
    expect(await listAttempts(site.journal, id)).toHaveLength(1);
    const text = textOf(await page(site.app, handed, 200, as('Ada')));
    expect(text).toContain('Trainee: Ada');
    expect(text).toContain('What to do differently');
    const kept = await findAttempt(site.journal, id, 1);
    expect(kept).toMatchObject({ trainee: 'Ada', item: 'part-a', kind: 'case' });
    const course = textOf(await page(site.app, `/training/courses/${id}`, 200, as('Ada')));
    expect(course).toContain('1 of 2 handed in');
    expect(course).toContain('Try it again');
  });

  it('gets the same marking again from what was kept, also when the numbers deal something else by then', async () => {
    const kept = await findAttempt(site.journal, 'course-2', 1);
    const sheet = kept.sheet as { dealt: { fixedAnswers: Record<string, string> }; marking: unknown };
    expect(Object.keys(sheet.dealt.fixedAnswers)).toEqual(['groove-look']);
    const then = await page(site.app, '/training/courses/course-2/attempts/1');
    const now = await page(site.app, '/training/courses/course-2/attempts/1?marked=again');
    const main = (html: string) =>
      html
        .slice(html.indexOf('<section aria-labelledby="truth">'), html.indexOf('<p class="on-page">'))
        .trim();
    expect(main(now)).toBe(main(then));
    expect(textOf(now)).toContain('Marked anew with today’s knowledge');
    expect(textOf(now)).toContain('the same frame and the same answers');
  });

  it('hands a lesson in when every question is answered', async () => {
    const id = 'course-2';
    const path = await locationOf(
      site.app.request(`${ORIGIN}/training/courses/${id}/parts/part-b`, { headers: as('Ada') }),
    );
    const html = await page(site.app, path, 200, as('Ada'));
    const action = `/training/courses/${id}/parts/part-b/answers`;
    const fields = formOf(html, action);
    const some = await locationOf(postAs('Ada', action, [...fields, ['q1', '1']]));
    expect(textOf(await page(site.app, some.replace('#questions', ''), 200, as('Ada')))).toContain(
      'every question needs an answer',
    );
    const all = [...fields, ['q1', '1'], ['q2', '0'], ['q3', '2']] as [string, string][];
    const handed = await locationOf(postAs('Ada', action, all));
    await locationOf(postAs('Ada', action, all));
    const shown = textOf(await page(site.app, handed.replace('#questions', ''), 200, as('Ada')));
    expect(shown).toMatch(/[0-3] of 3 right\. Handed in/);
    expect((await listAttempts(site.journal, id)).map((one) => one.kind)).toEqual(['case', 'lesson']);
  });

  it('reads in plain words what to do differently', async () => {
    const text = textOf(await page(site.app, '/training/courses/course-2/report?trainee=Ada'));
    expect(text).toContain('1 case closed');
    expect(text).toContain('Safety first');
    expect(text).toContain('You took “');
    expect(textOf(await page(site.app, '/training/courses/course-2/report?trainee=Nobody'))).toContain(
      'No case has been closed yet',
    );
  });
});

describe('a trainer', () => {
  it('sees who did what and which causes are mixed up, and takes it along', async () => {
    const id = 'course-2';
    const name = '=Mallory';
    await joinCourse(site.journal, id, name, { who: name });
    const fields = [...(await begin(id, name)), ['m', 'p:rotor-local-dirt=80'], ['do', 'close']] as [
      string,
      string,
    ][];
    await locationOf(postAs(name, '/training/practice', fields));
    const html = await page(site.app, `/training/courses/${id}/progress`);
    const text = textOf(html);
    expect(text).toContain('2 cases and 1 lesson handed in');
    expect(html).toContain('mix-wrong');
    expect(html).toContain('mix-right');
    expect(text).toContain('× the best way');
    const csv = await page(site.app, `/training/courses/${id}/results.csv`);
    expect(csv).toContain(`"'=Mallory"`);
    expect(csv.trim().split('\r\n')).toHaveLength(4);
    const json = JSON.parse(await page(site.app, `/training/courses/${id}/results.json`)) as {
      results: { trainee: string; proposed: { confidence: number }[] }[];
    };
    expect(json.results.map((one) => one.trainee)).toEqual(['Ada', 'Ada', name]);
    expect(json.results[2]?.proposed[0]?.confidence).toBe(0.8);
  });

  it('makes a course part by part, and nothing typed is lost', async () => {
    const path = await locationOf(send(site.app, '/training/courses/new', { title: 'Insert', who: 'Ruth' }));
    expect(path).toMatch(/^\/training\/courses\/course-3\/edit$/);
    const wrong = await send(site.app, path, { what: 'case', code: 'seven', partNote: 'Alone.' });
    expect(wrong.status).toBe(422);
    const said = await wrong.text();
    expect(textOf(said)).toContain('“seven” is not the number of a practice case');
    expect(said).toContain('Alone.');
    await locationOf(
      send(site.app, path, { what: 'case', code: '2 - 3', minutes: '15', partNote: 'Alone.' }),
    );
    await locationOf(send(site.app, path, { what: 'lesson:tension', minutes: '8' }));
    let course = await findCourse(site.journal, 'course-3');
    expect(course.items.map((item) => item.kind)).toEqual(['case', 'lesson']);
    const step = async (what: string, part: string, seen = course.version) =>
      post(site.app, path, [
        ['do', what],
        ['part', part],
        ['seen', String(seen)],
        ['who', 'Ruth'],
      ]);
    await locationOf(step('up', course.items[1]?.id ?? ''));
    const stale = await step('out', course.items[1]?.id ?? '');
    expect(stale.status).toBe(409);
    expect(await stale.text()).toContain('Somebody was quicker');
    course = await findCourse(site.journal, 'course-3');
    expect(course.items.map((item) => item.kind)).toEqual(['lesson', 'case']);
    await locationOf(step('out', course.items[0]?.id ?? ''));
    course = await findCourse(site.journal, 'course-3');
    expect(course.items).toMatchObject([{ kind: 'case', code: '2-3', minutes: 15, note: 'Alone.' }]);
    await locationOf(post(site.app, '/training/courses/course-3/state', [['state', 'open']]));
    await locationOf(post(site.app, '/training/courses/course-3/state', [['state', 'closed']]));
    expect((await findCourse(site.journal, 'course-3')).state).toBe('closed');
    expect(textOf(await page(site.app, '/training/courses/course-3'))).toContain('Open it to trainees');
  });
});

const CASE_TEXT = `setup: {fibre: cotton, count: 20 Ne, end-use: knitting, tube: {insert: 2-groove}}
observations: {end-breaks: marked}
scope: position
onset: since-change
changed: [cleaning-round]
`;

describe('practice cases of one’s own', () => {
  it('are held against the product, kept with every version, and worked without their key', async () => {
    const bad = await send(site.app, '/training/cases/new', {
      text: 'observations: {hairy: very}',
      do: 'check',
    });
    expect(bad.status).toBe(422);
    expect(await bad.text()).toContain('There is something to mend');
    const key = (cause: string) =>
      `${CASE_TEXT}answer-key: {causes: [${cause}], notes: Look into the tube.}\n`;
    const doubtful = await send(site.app, '/training/cases/new', {
      title: 'Since the cleaning',
      text: key('wax-fault'),
      who: 'Ruth',
      do: 'keep',
    });
    expect(doubtful.status).toBe(422);
    const shown = await doubtful.text();
    expect(shown).toContain('The key does not agree');
    expect(shown).toContain('Keep it all the same');
    expect(shown).toContain('name="sure" value="yes"');
    const path = await locationOf(
      send(site.app, '/training/cases/new', {
        title: 'Since the cleaning',
        text: key('insert-missing-or-worn'),
        who: 'Ruth',
        do: 'keep',
      }),
    );
    expect(path).toBe('/training/cases/own-1');
    expect(await findPracticeCase(site.journal, 'own-1')).toMatchObject({ agrees: true, origin: 'written' });
    const practice = await page(site.app, '/training/practice?case=own-1.1');
    expect(practice).toContain('Since the cleaning');
    expect(practice).not.toContain('Look into the tube');
    expect(practice.split('value="insert-missing-or-worn"').length).toBe(
      practice.split('value="takeoff-slip"').length,
    );
    const marked = await page(
      site.app,
      '/training/practice?case=own-1.1&m=p:insert-missing-or-worn=70&closed=yes',
    );
    expect(textOf(marked)).toContain('From the trainer Look into the tube.');
    await locationOf(
      send(site.app, path, { text: `${key('insert-missing-or-worn')}# changed\n`, who: 'Ruth', do: 'keep' }),
    );
    expect((await findPracticeCase(site.journal, 'own-1')).version).toBe(2);
    await page(site.app, '/training/practice?case=own-1.1');
    await page(site.app, '/training/practice?case=own-1.9', 404);
    // A course takes the version of the day.
    const item = { id: 'part-own', kind: 'own', practiceCase: 'own-1', minutes: 10 } as const;
    const { id } = await addCourse(site.journal, { title: 'Own', items: [item] }, { who: 'Ruth' });
    await setCourseState(site.journal, id, 'open', { who: 'Ruth' });
    await joinCourse(site.journal, id, 'Ada', { who: 'Ada' });
    const begun = await locationOf(
      site.app.request(`${ORIGIN}/training/courses/${id}/parts/part-own`, { headers: as('Ada') }),
    );
    expect(begun).toContain('case=own-1.2&');
    const handed = await locationOf(
      postAs('Ada', '/training/practice', [
        ...formOf(await page(site.app, begun, 200, as('Ada')), '/training/practice'),
        ['m', 'p:insert-missing-or-worn=80'],
        ['do', 'close'],
      ]),
    );
    expect(textOf(await page(site.app, handed))).toContain('From the trainer Look into the tube.');
    await locationOf(post(site.app, '/training/cases/own-1/use', [['use', 'no']]));
    expect((await findPracticeCase(site.journal, 'own-1')).retired).toBe(true);
  });

  it('are made from closed cases without anything that says whose frame it was', async () => {
    const list = await page(site.app, '/training/cases/from-journal');
    const [, first = ''] = /href="(\/training\/cases\/from-journal\/case-[0-9]+)"/.exec(list) ?? [];
    const id = first.split('/').at(-1) ?? '';
    const html = await page(site.app, first);
    const text = /<textarea[^>]*>(.*?)<\/textarea>/s.exec(html)?.[1] ?? '';
    expect(text).toContain('answer-key:');
    const { rows } = await searchCases(site.journal, {}, { size: 200 });
    const complaints = await searchComplaints(site.journal, {}, { size: 200 });
    const names = [
      ...(await listFrames(site.journal)).flatMap((one) => [one.name, one.place]),
      ...(await listLots(site.journal)).flatMap((one) => [one.id, one.name]),
      ...rows.flatMap((one) => [one.title, one.assignee]),
      ...complaints.rows.map((one) => one.customer),
    ].filter((name) => name.length > 2);
    expect(names.length).toBeGreaterThan(50);
    for (const name of names) expect(text.toLowerCase()).not.toContain(name.toLowerCase());
    expect(text).not.toMatch(/\b20\d\d-\d\d-\d\d\b/);
    expect(textOf(html)).toContain('answered from the network given the cause');
    const found = rows.find((one) => one.id === id);
    const frame = (await listFrames(site.journal)).find((one) => one.id === found?.frame)?.name ?? '';
    const fields = { title: `Trouble on ${frame}`, who: 'Ruth', do: 'keep', sure: 'yes' };
    const named = await send(site.app, first, fields);
    expect(named.status).toBe(422);
    expect(textOf(await named.text())).toContain(`whose frame it was: “${frame}”`);
    const kept = await locationOf(send(site.app, first, { ...fields, title: 'After the night shift' }));
    expect(await findPracticeCase(site.journal, kept.split('/').at(-1) ?? '')).toMatchObject({
      origin: 'journal',
      fromCase: id,
    });
    await page(site.app, `/training/practice?case=${kept.split('/').at(-1)}.1`);
  });
});

describe('a diagnosis kept with a case', () => {
  it('is replayed by itself, from its own page', async () => {
    const { rows } = await searchCases(site.journal, { state: ['closed'] }, { size: 50 });
    const one = rows.find((record) => record.firstRanking !== null);
    const html = await page(site.app, `/cases/${one?.id}/diagnoses/1`);
    const href = /href="(\/training\/replay\?kept=[^"]+)"/.exec(html)?.[1] ?? '';
    expect(textOf(await page(site.app, href))).toContain(`Case ${one?.number}, diagnosis 1`);
    await page(site.app, '/training/replay?kept=case-99999.1', 404);
  });
});

import { describe, expect, it } from 'vitest';
import { defaultKnowledgeFolder } from '../../src/rules/knowledge/load-knowledge.js';
import { drawAnswers, readPracticeCode } from '../../src/rules/training/index.js';
import { loadBase } from '../../src/server/loaded-base.js';
import { trainingHall } from '../../src/server/training/hall.js';
import { page, post, testSite } from './site.js';

const { app, diagnostician, mill } = testSite();
const { books } = loadBase(defaultKnowledgeFolder());
const hall = trainingHall({
  diagnostician,
  knowledge: diagnostician.knowledge,
  vocabulary: diagnostician.vocabulary,
  mill,
  books: () => books,
  page: () => '',
})();

const CODE = '1-3';
const dealt = async () => {
  const number = readPracticeCode(CODE);
  if (number === undefined) throw new Error('no code');
  return hall.deal(number);
};
const locationOf = async (fields: readonly (readonly [string, string])[]) => {
  const response = await post(app, '/training/practice', fields);
  expect(response.status).toBe(303);
  return response.headers.get('location') ?? '';
};

describe('practice pages', () => {
  it('show the frame and nothing of the hidden truth', async () => {
    const text = await page(app, `/training/practice?case=${CODE}`);
    const { truth } = await dealt();
    const { book } = diagnostician.knowledge;
    expect(text).toContain('Close and have it marked');
    // Every cause stands in the list to choose from, the true one no more often than the others.
    const count = (id: string) => text.split(`value="${id}"`).length;
    for (const cause of truth.causes) expect(count(cause)).toBe(count('takeoff-slip'));
    for (const mechanism of truth.mechanisms) expect(text).not.toContain(mechanism);
    expect(text).not.toContain(`${book.causes.get(truth.causes[0] ?? '')?.what.slice(0, 60)}`);
  });

  it('give the answer of a check and keep it in the address', async () => {
    const answers = await drawAnswers(hall.room, await dealt());
    const location = await locationOf([
      ['case', CODE],
      ['check', 'broken-tail'],
    ]);
    expect(location).toBe(`/training/practice?case=${CODE}&m=c%3Abroken-tail#latest`);
    const text = await page(app, location.replace('#latest', ''));
    const outcome =
      diagnostician.knowledge.book.checks.get('broken-tail')?.outcomes[answers.get('broken-tail') ?? ''];
    expect(text).toContain(outcome?.label);
    expect(text).not.toContain('name="check" value="broken-tail"');
  });

  it('say what has to be mended and keep what was typed', async () => {
    const location = await locationOf([
      ['case', CODE],
      ['do', 'propose'],
      ['cause.1', 'nozzle-worn'],
      ['confidence.1', 'rather'],
    ]);
    const text = await page(app, location);
    expect(text).toContain('<title>Error: ');
    expect(text).toContain('There is something to mend');
    expect(text).toContain('value="rather"');
    expect(text).toMatch(/value="nozzle-worn" selected/);
  });

  it('mark a closed case, with the truth', async () => {
    const { truth } = await dealt();
    const [cause = ''] = truth.causes;
    const location = await locationOf([
      ['case', CODE],
      ['m', 'c:groove-look'],
      ['m', `p:${cause}=80`],
      ['do', 'close'],
    ]);
    expect(location).toContain('closed=yes');
    const text = await page(app, location);
    expect(text).toContain('What to do differently');
    expect(text).toContain('wait for standstill');
    expect(text).toContain(diagnostician.knowledge.book.causes.get(cause)?.label.replace(/’/g, '’'));
    expect(await page(app, location)).toBe(text);
  });

  it('know a wrong number from a right one', async () => {
    expect(await page(app, '/training?code=7', 200)).toContain('is no number of a case');
    expect(await page(app, '/training/practice?case=nonsense', 404)).toContain('names no case');
    const response = await app.request('http://plant.test/training?code=2-7');
    expect(response.headers.get('location')).toBe('/training/practice?case=2-7');
  });

  it('pass over moves that name what is not there', async () => {
    const text = await page(app, `/training/practice?case=${CODE}&m=c:crystal-ball&m=a:wish:trial&m=x`);
    expect(text).toContain('Nothing yet');
  });
});

describe('a part and a trial', () => {
  it('are offered on single positions, tried from the page and kept in the address', async () => {
    const location = await locationOf([
      ['case', '5-2'],
      ['check', 'part-exchange.rotor'],
      ['standstill', 'yes'],
    ]);
    expect(location).toContain('m=c%3Apart-exchange.rotor%3As');
    expect(await page(app, '/training/practice?case=5-2')).toContain('value="part-exchange.rotor"');
    const text = await page(app, location.replace('#latest', ''));
    expect(text).toContain('Try a part from a good position: rotor');
    expect(text).not.toContain('value="part-exchange.rotor"');
    expect(await page(app, '/training/practice?case=1-3')).not.toContain('part-exchange.rotor');
  });
});

describe('lessons, glossary, replays and own cases', () => {
  it('explain terms on first use and judge answers', async () => {
    const { lessons } = hall.room.material;
    for (const lesson of lessons) {
      const text = await page(app, `/training/lessons/${lesson.id}`);
      expect(text, lesson.id).toContain('plain-words');
      expect(text, lesson.id).not.toContain('class="verdict');
    }
    const [lesson] = lessons;
    const right = lesson?.questions[0]?.answers.findIndex((answer) => answer.right === true) ?? 0;
    const text = await page(app, `/training/lessons/${lesson?.id}?q1=${right}&q2=9&play=1`);
    expect(text).toContain('1 of 3 right');
    expect(text).toContain('<strong>Right.</strong>');
    await page(app, '/training/lessons/alchemy', 404);
    expect(await page(app, '/training/glossary')).toContain('id="false-twist"');
  });

  it('draw the position of a lesson and of a replay to scale', async () => {
    for (const path of [
      '/training/lessons/twist-retention/drawing.svg?play=2&layout=wide',
      `/training/replay/drawing.svg?case=${CODE}&cause=nozzle-worn`,
    ]) {
      const response = await app.request(`http://plant.test${path}`);
      expect(response.headers.get('content-type')).toContain('image/svg+xml');
      expect(await response.text()).toMatch(/^<\?xml[^>]*>\s*<svg/);
    }
    await page(app, `/training/replay/drawing.svg?case=${CODE}&cause=gremlins`, 404);
  });

  it('replay a case from the bench and one from practice, one step at a time', async () => {
    const bench = 'frame=frame-3&observations.end-breaks=marked&scope=position';
    const first = await page(app, `/training/replay?${bench}`);
    expect(first).toContain('Step 0 of 2');
    expect(first).not.toContain('rel="prev"');
    const last = await page(app, `/training/replay?${bench}&step=99&view=projector`);
    expect(last).toContain('Step 2 of 2');
    expect(last).toContain('replay projector');
    expect(last).not.toContain('rel="next"');
    const why = await page(app, `/training/replay?case=${CODE}&m=c:broken-tail&step=1&why=wax-fault`);
    expect(why).toContain('Why not “');
    const handout = await page(app, `/training/handout?${bench}`);
    expect(handout.split('handout-title').length - 1).toBe(3);
  });

  it('hold a trainer’s case against the product', async () => {
    const text =
      'setup: {fibre: cotton, count: 20 Ne, end-use: knitting, tube: {insert: 2-groove}}\nobservations: {end-breaks: marked}\nscope: position\nonset: since-change\nchanged: [cleaning-round]\n';
    const send = async (key: string) => {
      const response = await post(app, '/training/own-case', [['text', `${text}answer-key: ${key}\n`]]);
      return { status: response.status, body: await response.text() };
    };
    expect((await send('{causes: [insert-missing-or-worn]}')).body).toContain('The key agrees');
    const differs = await send('{causes: [wax-fault]}');
    expect(differs.body).toContain('The key does not agree');
    expect(differs.body.split('<caption>').length - 1).toBe(2);
    const wrong = await send('{causes: [gremlins]}');
    expect(wrong.status).toBe(422);
    expect(wrong.body).toContain('There is something to mend');
    expect(wrong.body).toContain('line 6');
  });
});

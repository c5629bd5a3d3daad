import { TrieRouter } from 'hono/router/trie-router';
import type { Right } from '../../journal/index.js';
import { keepRecent } from '../../rules/keep-recent.js';

/** Who may use a route: anybody at all, whoever is signed in, or whoever has a right. */
export type Need = 'anybody' | 'signed-in' | Right;

/** What is known of a route. */
export interface RouteRule {
  /** What it needs; for some routes the last part of the address decides. */
  readonly need: Need | ((path: string) => Need);
  /** The answer takes data out of the house, which is noted in the audit log. */
  readonly export: boolean;
  /** Of the API: works without a token while nobody has to sign in. */
  readonly tokenless: boolean;
}

/** Steps of a case that undo what was agreed; all others are ordinary work on it. */
const UNDOING = ['reopened'];

/** What recording a step of a case needs. */
export const needForCaseStep = (step: string): Right => (UNDOING.includes(step) ? 'corrections' : 'cases');

const byStep = (path: string): Need => needForCaseStep(path.split('/').at(-1) ?? '');

const CASE = '/cases/:id{case-[0-9]+}';
const COMPLAINT = '/complaints/:id{complaint-[0-9]+}';
const PHOTO = '/photos/:photo{photo-[0-9a-f-]+}';
const COURSE = '/training/courses/:course{course-[0-9]+}';
const OWN_CASE = '/training/cases/:case{own-[0-9]+}';
const API = '/api/v1';

/**
 * Every route of the server with what it needs. A route that does not stand here is refused to everybody; a test walks
 * the routes that are registered and names those that are missing.
 */
const TABLE: readonly (readonly [RouteRule['need'], readonly string[]])[] = [
  // For monitors and for pages that nobody is signed in on.
  ['anybody', ['GET /healthz', 'GET /assets/:file', 'GET /readyz']],
  // Asks for a secret of its own, or to be read on this computer.
  ['anybody', ['GET /metrics']],
  ['anybody', ['GET /sign-in', 'POST /sign-in', 'GET /set-password', 'POST /set-password']],
  ['anybody', ['GET /sign-in/provider', 'GET /sign-in/provider/back']],
  ['anybody', [`ALL ${API}/*`, 'POST /language']],
  ['signed-in', ['POST /sign-out', 'GET /account', 'POST /account/password', 'POST /account/sessions']],

  // Diagnosing, planning, counting, converting, reading the rules: computed and shown, not kept.
  ['read', ['GET /', 'GET /bench', 'POST /bench', 'GET /bench/answer', 'GET /bench/next', 'GET /cause/:id']],
  ['read', ['GET /setup', 'GET /setup/report', 'POST /setup', 'GET /sensitivity', 'GET /convert']],
  ['read', ['GET /knowledge', 'GET /knowledge/check', 'GET /knowledge/:kind', 'GET /knowledge/:kind/:id']],
  ['read', ['GET /knowledge/:kind/:id/run']],
  ['read', ['GET /plan', 'GET /plan-assets/:file', 'GET /compare', 'GET /what-if', 'GET /what-if/result']],
  ['read', ['GET /drawing', 'GET /drawing.svg', 'GET /card', 'GET /case.yaml', 'GET /case', 'POST /case']],
  ['read', ['GET /counts', 'POST /counts/table', 'GET /counts/table/:id', 'GET /counts/table/:id/answer']],
  ['read', ['GET /counts/table/:id/:file{[a-z]+\\.csv}', 'GET /counts/rate', 'GET /counts/compare']],
  ['read', ['GET /counts/trial-plan', 'GET /counts/trial', 'GET /counts/trial-positions']],
  ['read', ['GET /counts/wavelength']],
  ['read', ['GET /training', 'GET /training/glossary', 'GET /training/lessons/:id', 'GET /training/handout']],
  ['read', ['GET /training/lessons/:id/drawing.svg', 'GET /training/own-case', 'POST /training/own-case']],
  ['read', ['GET /training/practice', 'POST /training/practice', 'GET /training/replay']],
  ['read', ['GET /training/replay/drawing.svg']],

  // Taking part in a course: what is handed in stands under the own name.
  ['read', ['GET /training/courses', `GET ${COURSE}`, `POST ${COURSE}/join`, `GET ${COURSE}/handout`]],
  [
    'read',
    [`GET ${COURSE}/parts/:part{part-[0-9a-z-]+}`, `POST ${COURSE}/parts/:part{part-[0-9a-z-]+}/answers`],
  ],
  // Those of others are for trainers, which the pages ask.
  ['read', [`GET ${COURSE}/report`, `GET ${COURSE}/attempts/:number{[0-9]+}`]],

  // The journal, to look at.
  [
    'read',
    ['GET /journal', 'GET /frames', 'GET /frames/:id', 'GET /parts', 'GET /parts.csv', 'GET /learning'],
  ],
  ['read', ['GET /cases', 'GET /cases.csv', 'GET /cases.json', `GET ${CASE}`, `GET ${CASE}/report`]],
  ['read', [`GET ${CASE}/diagnoses/:number{[0-9]+}`, `GET ${CASE}/again`]],
  ['read', ['GET /complaints', 'GET /complaints.csv', 'GET /complaints.json', `GET ${COMPLAINT}`]],
  ['read', [`GET ${COMPLAINT}/letter`, `GET ${PHOTO}`]],
  ['read', ['GET /quality', 'GET /quality.csv', 'GET /quality.json']],

  [
    'cases',
    ['GET /cases/new', 'POST /cases/new', `GET ${CASE}/keep`, `POST ${CASE}/keep`, `POST ${CASE}/again`],
  ],
  [byStep, [`GET ${CASE}/record/:step`, `POST ${CASE}/record/:step`]],
  ['corrections', [`GET ${CASE}/correct/:version{[0-9]+}`, `POST ${CASE}/correct/:version{[0-9]+}`]],
  ['corrections', [`POST ${CASE}/correct/:version{[0-9]+}/withdraw`]],
  ['setups', ['GET /frames/:id/setup', 'POST /frames/:id/setup']],
  ['setups', ['GET /frames/:id/setups/:setup/withdraw', 'POST /frames/:id/setups/:setup/withdraw']],
  ['complaints', ['GET /complaints/new', 'POST /complaints/new', `GET ${COMPLAINT}/record/:step`]],
  ['complaints', [`POST ${COMPLAINT}/record/:step`, `POST ${COMPLAINT}/photos`]],
  ['complaints', [`GET ${PHOTO}/withdraw`, `POST ${PHOTO}/withdraw`]],
  [
    'courses',
    ['POST /training/courses/first-hour', 'GET /training/courses/new', 'POST /training/courses/new'],
  ],
  [
    'courses',
    [`POST ${COURSE}/state`, `GET ${COURSE}/edit`, `POST ${COURSE}/edit`, `GET ${COURSE}/progress`],
  ],
  ['courses', [`GET ${COURSE}/results.csv`, `GET ${COURSE}/results.json`, `GET ${COURSE}/class`]],
  // They hold the answer.
  ['courses', ['GET /training/cases', 'GET /training/cases/new', 'POST /training/cases/new']],
  ['courses', [`GET ${OWN_CASE}`, `POST ${OWN_CASE}`, `POST ${OWN_CASE}/use`]],
  ['courses', ['GET /training/cases/from-journal', 'GET /training/cases/from-journal/:case{case-[0-9]+}']],
  ['mill', ['GET /frames/new', 'POST /frames/new', 'GET /frames/:id/edit', 'POST /frames/:id/edit']],
  ['mill', ['GET /yarns/new', 'POST /yarns/new', 'GET /yarns/:id/edit', 'POST /yarns/:id/edit']],
  ['mill', ['GET /lots/new', 'POST /lots/new', 'GET /lots/:id/edit', 'POST /lots/:id/edit']],
  ['read', ['GET /settings/mill']],
  ['settings', ['POST /settings/mill']],
  ['read', ['GET /learning/versions']],
  ['knowledge', ['POST /learning', 'POST /learning/replay']],
  ['knowledge', ['POST /learning/versions/accept', 'POST /learning/versions/again']],

  // Looking after the server.
  ['accounts', ['GET /accounts', 'GET /accounts/new', 'POST /accounts/new', 'GET /accounts/:id']],
  ['accounts', ['POST /accounts/:id', 'POST /accounts/:id/state', 'POST /accounts/:id/link']],
  ['accounts', ['GET /tokens', 'POST /tokens', 'POST /tokens/:id/revoke']],
  ['audit', ['GET /audit', 'GET /audit.csv', 'GET /audit.json']],

  // The API. What it has to say of itself and what it computes is open to whoever may read.
  ['read', [`GET ${API}/openapi.json`, `POST ${API}/diagnose`, `POST ${API}/rank`]],
  ['read', [`POST ${API}/setup-report`, `POST ${API}/convert`]],
  ['read', [`GET ${API}/frames`, `GET ${API}/frames/:frame`, `GET ${API}/frames/:frame/history`]],
  ['read', [`GET ${API}/frames/:frame/changes`, `GET ${API}/frames/:frame/part-hours`]],
  ['read', [`GET ${API}/frames/:frame/setups`, `GET ${API}/yarns`, `GET ${API}/lots`]],
  ['read', [`GET ${API}/cases`, `GET ${API}/cases/:case`, `GET ${API}/cases/:case/diagnoses/:number`]],
  ['read', [`GET ${API}/complaints`, `GET ${API}/complaints/:complaint`, `GET ${API}/photos/:photo`]],
  ['read', [`GET ${API}/quality/root-causes`, `GET ${API}/quality/offenders/:kind`]],
  ['read', [`GET ${API}/quality/assistant`, `GET ${API}/learning/base-rates`]],
  ['read', [`GET ${API}/knowledge/versions`, `GET ${API}/knowledge/replays/:number`]],
  ['knowledge', [`POST ${API}/knowledge/versions/:id/accept`]],
  ['read', [`GET ${API}/courses`]],
  // What was handed in says how people work; practice cases hold the answer.
  [
    'courses',
    [`GET ${API}/courses/:course/results`, `GET ${API}/practice-cases`, `POST ${API}/practice-cases`],
  ],
  ['courses', [`GET ${API}/practice-cases/:case`]],
  // What a step needs beyond this, its handler asks.
  ['cases', [`POST ${API}/cases`, `POST ${API}/cases/:case/steps`, `POST ${API}/cases/:case/diagnoses`]],
  ['corrections', [`POST ${API}/cases/:case/corrections`]],
  ['setups', [`POST ${API}/frames/:frame/setups`]],
  ['machine-data', [`POST ${API}/break-events`, `POST ${API}/runs`]],
  ['complaints', [`POST ${API}/complaints`, `POST ${API}/complaints/:complaint/steps`]],
  ['complaints', [`POST ${API}/complaints/:complaint/photos`]],
  ['mill', [`POST ${API}/frames`, `PUT ${API}/frames/:frame`, `POST ${API}/yarns`, `PUT ${API}/yarns/:yarn`]],
  ['mill', [`POST ${API}/lots`, `PUT ${API}/lots/:lot`]],
];

/** Whether a route's answer is a file with data of the mill to take along. */
const isExport = (route: string): boolean => /^GET \/(?!api\/).*\.(csv|json)$/.test(route);

/** Operations of the API that compute and keep nothing. */
const TOKENLESS: readonly string[] = ['openapi.json', 'diagnose', 'rank', 'setup-report', 'convert'].flatMap(
  (name) => [`GET ${API}/${name}`, `POST ${API}/${name}`],
);

const rules = new Map<string, RouteRule>(
  TABLE.flatMap(([need, routes]) =>
    routes.map((route): [string, RouteRule] => [
      route,
      { need, export: isExport(route), tokenless: TOKENLESS.includes(route) },
    ]),
  ),
);
const router = new TrieRouter<RouteRule>();
for (const [route, rule] of rules) {
  const [method = '', path = ''] = route.split(' ');
  router.add(method, path, rule);
}

/** All routes of the table, as `GET /cases`. */
export const tableRoutes = (): readonly string[] => [...rules.keys()];

const MOST_ANSWERED = 2000;
/** What was answered last: a page asks about some forty addresses, mostly the same, and the table never changes. */
const answered = keepRecent<string, RequestRule | undefined>(MOST_ANSWERED);
/** Longer ones are no addresses of ours, and would take room. */
const LONGEST_PATH = 200;

/** What the table says of one request. */
export interface RequestRule {
  readonly need: Need;
  readonly export: boolean;
  readonly tokenless: boolean;
}

/**
 * The rule for a request. Where several fit (`/frames/new` and `/frames/:id`), the strictest holds, so that the order of
 * the routes in the app cannot open anything.
 * @returns undefined when the table says nothing of it: refused
 */
export function ruleFor(method: string, path: string): RequestRule | undefined {
  if (path.length > LONGEST_PATH) return lookUp(method, path);
  const key = `${method}\n${path}`;
  if (answered.has(key)) return answered.get(key);
  const rule = lookUp(method, path);
  answered.set(key, rule);
  return rule;
}

function lookUp(method: string, path: string): RequestRule | undefined {
  const [found] = router.match(method === 'HEAD' ? 'GET' : method, path);
  const fitting = found.map(([rule]) => ({
    ...rule,
    need: typeof rule.need === 'function' ? rule.need(path) : rule.need,
  }));
  return fitting.sort((a, b) => strictness(b.need) - strictness(a.need))[0];
}

const strictness = (need: Need): number =>
  ['anybody', 'signed-in', 'read'].indexOf(need) + (need in LOOSE ? 0 : 10);
const LOOSE = { anybody: true, 'signed-in': true, read: true };

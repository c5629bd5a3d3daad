import { z } from 'zod';
import {
  addFrame,
  addLot,
  addPhoto,
  addYarn,
  breakEventsSchema,
  type CaseFilter,
  type ComplaintFilter,
  caseFilterSchema,
  changeFrame,
  changeLot,
  changeYarn,
  complaintSchema,
  complaintStepSchema,
  correctStep,
  findCase,
  findComplaint,
  findDiagnosis,
  findFrame,
  findFrameHistory,
  findPartHours,
  findPhoto,
  findRepeatOffenders,
  frameSchema,
  listFrames,
  listLots,
  listSetups,
  listYarns,
  logComplaint,
  lotSchema,
  measureCalibration,
  measureDurations,
  measureHits,
  newCaseSchema,
  openCase,
  type PageInput,
  rankRootCauses,
  recordBreaks,
  recordComplaintStep,
  recordDiagnosis,
  recordRuns,
  recordSetup,
  recordStep,
  runSchema,
  searchCases,
  searchComplaints,
  setupAt,
  stepSchema,
  whatChangedLately,
  yarnSchema,
} from '../../journal/index.js';
import { caseObject } from '../../rules/case/write-case.js';
import { convertQuantity } from '../../spinning/units/conversion.js';
import { requireRight } from '../access/requester.js';
import { needForCaseStep } from '../access/route-table.js';
import { learnRates } from '../journal/learning.js';
import { cardOf } from '../journal/live-frames.js';
import { ApiError } from './errors.js';
import { KNOWLEDGE_ROUTES } from './knowledge-routes.js';
import { readApiCase, readApiSetup } from './read-case.js';
import { type ApiBytes, type ApiRoute, route } from './route.js';
import {
  caseDetailSchema,
  caseFileSchema,
  caseQuerySchema,
  caseSchema,
  complaintDetailSchema,
  complaintQuerySchema,
  complaintRecordSchema,
  conversionBodySchema,
  conversionSchema,
  diagnosisSchema,
  keptDiagnosisSchema,
  pageOf,
  periodSchema,
  qualityQuerySchema,
  rankingSchema,
  receiptSchema,
  setupBodySchema,
  setupRecordSchema,
  setupReportSchema,
} from './schemas.js';
import { TRAINING_ROUTES } from './training-routes.js';

const loose = z.looseObject({});
const list = (rows: z.ZodType = loose) => z.strictObject({ rows: z.array(rows) });
const seen = z.number().int().min(1).describe('the version that was looked at before writing');

/** Parts of a query that page a list. */
function paged<F extends object>(query: F): { filter: Omit<F, 'size' | 'order' | 'after'>; page: PageInput } {
  const { size, order, after, ...filter } = query as F & PageInput;
  return {
    filter: filter as Omit<F, 'size' | 'order' | 'after'>,
    page: {
      ...(size === undefined ? {} : { size }),
      ...(order === undefined ? {} : { order }),
      ...(after === undefined ? {} : { after }),
    },
  };
}

/** Without the keys whose value is undefined, as the journal's exact types want it. */
const present = <T extends object>(object: T): T =>
  Object.fromEntries(Object.entries(object).filter(([, value]) => value !== undefined)) as T;

const diagnosing: readonly ApiRoute[] = [
  route({
    method: 'post',
    path: '/diagnose',
    tag: 'Diagnosis',
    summary: 'Ranked causes with ledgers and chains, checks, and actions with side effects',
    open: true,
    body: caseFileSchema,
    response: diagnosisSchema,
    handle: ({ site, body }) => site.diagnostician.diagnose(readApiCase(body, site.vocabulary)),
  }),
  route({
    method: 'post',
    path: '/rank',
    tag: 'Diagnosis',
    summary: 'Ranked causes alone; quicker',
    open: true,
    body: caseFileSchema,
    response: rankingSchema,
    handle: ({ site, body }) => site.diagnostician.rank(readApiCase(body, site.vocabulary)),
  }),
  route({
    method: 'post',
    path: '/setup-report',
    tag: 'Diagnosis',
    summary: 'What the model computes from a setup, with intervals and margins',
    open: true,
    body: z.strictObject({ setup: z.record(z.string(), z.unknown()) }),
    response: setupReportSchema,
    handle: ({ site, body }) => site.diagnostician.report(cardOf(readApiSetup(body.setup, site.vocabulary))),
  }),
  route({
    method: 'post',
    path: '/convert',
    tag: 'Diagnosis',
    summary: 'Counts, twists and other quantities of the trade from one unit to another',
    open: true,
    body: conversionBodySchema,
    response: conversionSchema,
    handle: async ({ body }) => {
      const result = convertQuantity(
        body.quantity,
        body.unit,
        body.count === undefined ? {} : { count: body.count },
      );
      if (result.ok) return { value: result.value, unit: result.unit, from: result.from };
      throw new ApiError(422, 'input', result.reason, [
        { field: 'quantity', value: body.quantity, allowed: result.allowed.slice(0, 20).join(', ') },
      ]);
    },
  }),
];

const mill: readonly ApiRoute[] = [
  route({
    method: 'get',
    path: '/frames',
    tag: 'Mill',
    summary: 'All frames',
    response: list(),
    handle: async ({ journal }) => ({ rows: await listFrames(journal) }),
  }),
  route({
    method: 'post',
    path: '/frames',
    tag: 'Mill',
    summary: 'Add a frame',
    status: 201,
    body: frameSchema,
    response: loose,
    handle: async ({ journal, body, by, site }) => {
      const frame = await addFrame(journal, body, by());
      site.framesChanged();
      return frame;
    },
  }),
  route({
    method: 'get',
    path: '/frames/{frame}',
    tag: 'Mill',
    summary: 'One frame with its present setup',
    response: loose,
    handle: async ({ journal, params }) => ({
      ...(await findFrame(journal, params.frame ?? '')),
      setup: (await setupAt(journal, params.frame ?? '', new Date().toISOString())) ?? null,
    }),
  }),
  route({
    method: 'put',
    path: '/frames/{frame}',
    tag: 'Mill',
    summary: 'Change a frame: all of its fields anew',
    body: frameSchema.omit({ id: true }).extend({ seen }),
    response: loose,
    handle: async ({ journal, params, body, by, site }) => {
      const { seen: version, ...frame } = body;
      const changed = await changeFrame(journal, version, { ...frame, id: params.frame ?? '' }, by());
      site.framesChanged();
      return changed;
    },
  }),
  route({
    method: 'get',
    path: '/frames/{frame}/history',
    tag: 'Mill',
    summary: 'Setups, cases, complaints, breaks and hours of a frame in a period',
    query: periodSchema,
    response: loose,
    handle: ({ journal, params, query }) => findFrameHistory(journal, params.frame ?? '', query),
  }),
  route({
    method: 'get',
    path: '/frames/{frame}/changes',
    tag: 'Mill',
    summary: 'What was changed on a frame since a time, in the words of a case file',
    query: z.strictObject({ since: z.iso.datetime({ offset: true }) }),
    response: z.looseObject({ changed: z.array(z.string()), onset: z.string().nullable() }),
    handle: ({ journal, params, query }) => whatChangedLately(journal, params.frame ?? '', query.since),
  }),
  route({
    method: 'get',
    path: '/frames/{frame}/part-hours',
    tag: 'Mill',
    summary: 'Running hours of nozzles, tubes and rotors by position',
    response: list(),
    handle: async ({ journal, params }) => ({ rows: await findPartHours(journal, params.frame ?? '') }),
  }),
  route({
    method: 'get',
    path: '/frames/{frame}/setups',
    tag: 'Mill',
    summary: 'The setup history of a frame, newest first',
    response: list(setupRecordSchema),
    handle: async ({ journal, params }) => ({ rows: await listSetups(journal, params.frame ?? '') }),
  }),
  route({
    method: 'post',
    path: '/frames/{frame}/setups',
    tag: 'Mill',
    summary: 'Record that a setup holds from a time on; what the model says before and after is kept with it',
    status: 201,
    body: setupBodySchema,
    response: setupRecordSchema,
    handle: async ({ journal, params, body, by, site }) => {
      const frame = params.frame ?? '';
      await findFrame(journal, frame);
      const given = readApiSetup(body.setup, site.vocabulary);
      const before = await setupAt(journal, frame, body.at ?? new Date().toISOString());
      const record = await recordSetup(
        journal,
        {
          frame,
          given,
          yarn: body.yarn === undefined ? (before?.yarn ?? null) : body.yarn,
          lot: body.lot === undefined ? (before?.lot ?? null) : body.lot,
          changes: (body.changes ?? []) as never,
          renewed: (body.renewed ?? []).map((one) => ({
            part: one.part,
            positions: one.positions ?? null,
            hours: one.hours ?? 0,
          })),
          note: body.note ?? '',
          ...(before === undefined
            ? {}
            : { reportBefore: await site.diagnostician.report(cardOf(before.given)) }),
          reportAfter: await site.diagnostician.report(cardOf(given)),
        },
        by(body.at),
      );
      site.framesChanged();
      return record;
    },
  }),
  ...(
    [
      ['yarns', 'yarn', yarnSchema, listYarns, addYarn, changeYarn],
      ['lots', 'lot', lotSchema, listLots, addLot, changeLot],
    ] as const
  ).flatMap(([path, word, schema, all, add, change]): ApiRoute[] => [
    route({
      method: 'get',
      path: `/${path}`,
      tag: 'Mill',
      summary: `All ${path}`,
      response: list(),
      handle: async ({ journal }) => ({ rows: await all(journal) }),
    }),
    route({
      method: 'post',
      path: `/${path}`,
      tag: 'Mill',
      summary: `Add a ${word}`,
      status: 201,
      body: schema as z.ZodType,
      response: loose,
      handle: ({ journal, body, by }) => (add as typeof addYarn)(journal, body as never, by()),
    }),
    route({
      method: 'put',
      path: `/${path}/{${word}}`,
      tag: 'Mill',
      summary: `Change a ${word}: all of its fields anew`,
      body: (schema as typeof lotSchema).omit({ id: true }).extend({ seen }) as z.ZodType,
      response: loose,
      handle: ({ journal, params, body, by }) => {
        const { seen: version, ...fields } = body as { seen: number };
        return (change as typeof changeYarn)(
          journal,
          version,
          { ...fields, id: params[word] ?? '' } as never,
          by(),
        );
      },
    }),
  ]),
];

const machine: readonly ApiRoute[] = [
  route({
    method: 'post',
    path: '/break-events',
    tag: 'Machine data',
    summary: 'Take in a batch of end breaks; a batch sent again changes nothing',
    status: 201,
    body: z.strictObject({ batch: z.string().min(1).max(80), events: breakEventsSchema.max(50_000) }),
    response: receiptSchema,
    handle: ({ journal, body, by }) => recordBreaks(journal, body.batch, body.events, by()),
  }),
  route({
    method: 'post',
    path: '/runs',
    tag: 'Machine data',
    summary: 'Take in a batch of running periods with their rotor-hours and, where counted, their breaks',
    status: 201,
    body: z.strictObject({ batch: z.string().min(1).max(80), runs: z.array(runSchema).min(1).max(20_000) }),
    response: receiptSchema,
    handle: ({ journal, body, by }) => recordRuns(journal, body.batch, body.runs, by()),
  }),
];

const cases: readonly ApiRoute[] = [
  route({
    method: 'get',
    path: '/cases',
    tag: 'Cases',
    summary: 'Cases that a filter lets through, by time of opening, a page at a time',
    query: caseQuerySchema,
    response: pageOf(caseSchema),
    handle: ({ journal, query }) => {
      const { filter, page } = paged(present(query));
      return searchCases(journal, filter as CaseFilter, page);
    },
  }),
  route({
    method: 'post',
    path: '/cases',
    tag: 'Cases',
    summary: 'Open a case; with a case file it is diagnosed and the whole diagnosis kept',
    status: 201,
    body: newCaseSchema.extend({ file: caseFileSchema.optional() }),
    response: caseSchema,
    handle: async ({ journal, body, by, site }) => {
      const { file, ...fields } = body;
      if (file === undefined) return openCase(journal, fields, by());
      const input = readApiCase(file, site.vocabulary, 'file.');
      const diagnosis = await site.diagnostician.diagnose(input);
      return openCase(journal, { ...fields, diagnosis: { input: caseObject(input), diagnosis } }, by());
    },
  }),
  route({
    method: 'get',
    path: '/cases/{case}',
    tag: 'Cases',
    summary: 'One case with its steps, its whole history and the steps that can follow',
    response: caseDetailSchema,
    handle: ({ journal, params }) => findCase(journal, params.case ?? ''),
  }),
  route({
    method: 'post',
    path: '/cases/{case}/steps',
    tag: 'Cases',
    summary: 'Record a step: a check, an action, a trial, the close, a note and so on',
    status: 201,
    body: z.strictObject({ seen, at: z.iso.datetime({ offset: true }).optional(), step: stepSchema }),
    response: caseSchema,
    handle: ({ journal, params, body, by }) => {
      requireRight(needForCaseStep(body.step.step));
      return recordStep(journal, { id: params.case ?? '', seen: body.seen }, body.step, by(body.at));
    },
  }),
  route({
    method: 'post',
    path: '/cases/{case}/corrections',
    tag: 'Cases',
    summary: 'Correct or (with null) withdraw a step; the old one stays in the history',
    status: 201,
    body: z.strictObject({
      seen,
      version: z.number().int().min(1).describe('of the step as first written, or of its last correction'),
      replacement: stepSchema.nullable(),
      why: z.string().min(1).max(1000),
    }),
    response: caseSchema,
    handle: ({ journal, params, body, by }) =>
      correctStep(
        journal,
        { id: params.case ?? '', seen: body.seen },
        body.version,
        body.replacement,
        body.why,
        by(),
      ),
  }),
  route({
    method: 'post',
    path: '/cases/{case}/diagnoses',
    tag: 'Cases',
    summary: 'Diagnose a case file on today’s rules and keep the diagnosis with the case',
    status: 201,
    body: z.strictObject({ seen, file: caseFileSchema }),
    response: caseSchema,
    handle: async ({ journal, params, body, by, site }) => {
      const input = readApiCase(body.file, site.vocabulary, 'file.');
      const diagnosis = await site.diagnostician.diagnose(input);
      return recordDiagnosis(
        journal,
        { id: params.case ?? '', seen: body.seen },
        { input: caseObject(input), diagnosis },
        by(),
      );
    },
  }),
  route({
    method: 'get',
    path: '/cases/{case}/diagnoses/{number}',
    tag: 'Cases',
    summary: 'A kept diagnosis as it was: what it was told and all it said',
    response: keptDiagnosisSchema,
    handle: ({ journal, params }) => findDiagnosis(journal, params.case ?? '', Number(params.number) || 0),
  }),
];

const complaints: readonly ApiRoute[] = [
  route({
    method: 'get',
    path: '/complaints',
    tag: 'Complaints',
    summary: 'Complaints that a filter lets through, by time of receipt, a page at a time',
    query: complaintQuerySchema,
    response: pageOf(complaintRecordSchema),
    handle: ({ journal, query }) => {
      const { filter, page } = paged(present(query));
      return searchComplaints(journal, filter as ComplaintFilter, page);
    },
  }),
  route({
    method: 'post',
    path: '/complaints',
    tag: 'Complaints',
    summary: 'Log a complaint; window, frames and cases not given are found from the setup history',
    status: 201,
    body: complaintSchema,
    response: complaintRecordSchema,
    handle: ({ journal, body, by }) => logComplaint(journal, present(body), by()),
  }),
  route({
    method: 'get',
    path: '/complaints/{complaint}',
    tag: 'Complaints',
    summary: 'One complaint with its history and photos',
    response: complaintDetailSchema,
    handle: ({ journal, params }) => findComplaint(journal, params.complaint ?? ''),
  }),
  route({
    method: 'post',
    path: '/complaints/{complaint}/steps',
    tag: 'Complaints',
    summary: 'Record a step: containment, root cause, actions, verification, the close and so on',
    status: 201,
    body: z.strictObject({
      seen,
      at: z.iso.datetime({ offset: true }).optional(),
      step: complaintStepSchema,
    }),
    response: complaintRecordSchema,
    handle: ({ journal, params, body, by }) =>
      recordComplaintStep(
        journal,
        { id: params.complaint ?? '', seen: body.seen },
        present(body.step),
        by(body.at),
      ),
  }),
  route({
    method: 'post',
    path: '/complaints/{complaint}/photos',
    tag: 'Complaints',
    summary: 'Add a photo: the picture itself as the body, PNG, JPEG or WebP, at most 5 MB',
    status: 201,
    picture: true,
    query: z.strictObject({ caption: z.string().max(500).optional() }),
    response: z.looseObject({ id: z.string(), type: z.string(), size: z.number() }),
    handle: ({ journal, params, query, body, by }) =>
      addPhoto(
        journal,
        params.complaint ?? '',
        { bytes: body as Uint8Array, ...(query.caption === undefined ? {} : { caption: query.caption }) },
        by(),
      ),
  }),
  route({
    method: 'get',
    path: '/photos/{photo}',
    tag: 'Complaints',
    summary: 'A photo',
    handle: async ({ journal, params }): Promise<ApiBytes> => {
      const { bytes, headers } = await findPhoto(journal, params.photo ?? '');
      return { bytes, headers };
    },
  }),
];

const quality: readonly ApiRoute[] = [
  route({
    method: 'get',
    path: '/quality/root-causes',
    tag: 'Quality',
    summary: 'Confirmed root causes by number, lost rotor-hours, minutes or waste, with intervals',
    query: qualityQuerySchema.extend({
      by: z.enum(['number', 'rotor-hours', 'minutes', 'waste']).optional(),
    }),
    response: z.looseObject({
      rows: z.array(z.looseObject({ cause: z.string(), cases: z.number(), value: z.number() })),
    }),
    handle: ({ journal, query }) => {
      const { by = 'number', ...filter } = present(query);
      return rankRootCauses(journal, by, caseFilterSchema.parse(filter) as CaseFilter);
    },
  }),
  route({
    method: 'get',
    path: '/quality/offenders/{kind}',
    tag: 'Quality',
    summary: 'Where cases come back: `frame`, `position`, `lot` or `part-age`',
    query: qualityQuerySchema,
    response: list(z.looseObject({ what: z.string(), cases: z.number() })),
    handle: async ({ journal, params, query }) => {
      const kind = (['frame', 'position', 'lot', 'part-age'] as const).find((one) => one === params.kind);
      if (kind === undefined)
        throw new ApiError(404, 'not-found', 'There is no such list.', [
          { field: 'kind', value: params.kind ?? '', allowed: 'frame, position, lot or part-age' },
        ]);
      return { rows: await findRepeatOffenders(journal, kind, present(query) as CaseFilter) };
    },
  }),
  route({
    method: 'get',
    path: '/quality/assistant',
    tag: 'Quality',
    summary: 'How often the first-ranked cause was right, calibration, times to find and to fix',
    query: qualityQuerySchema,
    response: z.looseObject({ hits: loose, calibration: loose.nullable(), durations: loose }),
    handle: async ({ journal, query }) => {
      const filter = present(query) as CaseFilter;
      return {
        hits: await measureHits(journal, 'first', filter),
        calibration: await measureCalibration(journal, { filter }),
        durations: await measureDurations(journal, filter),
      };
    },
  }),
  route({
    method: 'get',
    path: '/learning/base-rates',
    tag: 'Quality',
    summary: 'Base rates of the expert and of this mill, side by side',
    response: list(z.looseObject({ causeId: z.string(), expert: z.number(), learned: z.number() })),
    handle: async ({ journal, site }) => ({ rows: await learnRates(journal, site.learning.expert) }),
  }),
];

/** Every operation of the API. */
export const API_ROUTES: readonly ApiRoute[] = [
  ...diagnosing,
  ...mill,
  ...machine,
  ...cases,
  ...complaints,
  ...quality,
  ...KNOWLEDGE_ROUTES,
  ...TRAINING_ROUTES,
];

import { z } from 'zod';
import { casesOfReplay, listKnowledgeVersions, listReplays } from '../../journal/index.js';
import { ApiError } from './errors.js';
import { type ApiRoute, route } from './route.js';

const pair = z.strictObject({ before: z.number(), after: z.number() });
const replaySchema = z.looseObject({
  number: z.number(),
  version: z.string(),
  against: z.string(),
  tried: z.number().describe('cases tried'),
  closed: z.number().describe('closed cases with a proved cause that there are'),
  first: pair.describe('cases whose proved cause stands first'),
  firstThree: pair.describe('cases whose proved cause stands among the first three'),
  logScore: pair.describe('mean natural logarithm of its probability; higher is better'),
  brier: pair.describe('squared error summed over all causes; lower is better'),
  heldBecause: z.array(z.string()),
});
const versionSchema = z.looseObject({
  id: z.string(),
  state: z.enum(['seen', 'held', 'used']),
  how: z.string().nullable(),
  usedAt: z.string().nullable(),
});

/** Versions of the knowledge and their proof on closed cases. */
export const KNOWLEDGE_ROUTES: readonly ApiRoute[] = [
  route({
    method: 'get',
    path: '/knowledge/versions',
    tag: 'Knowledge',
    summary: 'Versions seen, the one in use, the one that waits, and how each did on the closed cases',
    response: z.looseObject({
      inUse: z.string(),
      waiting: z.looseObject({ kind: z.enum(['none', 'trying', 'held']) }),
      versions: z.array(versionSchema),
      replays: z.array(replaySchema),
    }),
    handle: async ({ journal, site }) => ({
      inUse: site.knowledgeState().version,
      waiting: site.gate.state(),
      versions: await listKnowledgeVersions(journal),
      replays: await listReplays(journal),
    }),
  }),
  route({
    method: 'get',
    path: '/knowledge/replays/{number}',
    tag: 'Knowledge',
    summary: 'A replay case by case: where the proved cause stood before and where after',
    response: z.looseObject({ cases: z.array(z.looseObject({ id: z.string(), cause: z.string() })) }),
    handle: async ({ journal, params }) => {
      const number = /^\d{1,9}$/.test(params.number ?? '') ? Number(params.number) : 0;
      const details = await casesOfReplay(journal, number);
      if (details.cases.length + details.unreadable.length === 0)
        throw new ApiError(404, 'not-found', `There is no replay ${params.number ?? ''}.`);
      return details;
    },
  }),
  route({
    method: 'post',
    path: '/knowledge/versions/{id}/accept',
    tag: 'Knowledge',
    summary: 'Takes a version that is held back into use',
    body: z.strictObject({ note: z.string().trim().min(1).max(2000).describe('why it may be used') }),
    response: z.strictObject({ inUse: z.string() }),
    handle: async ({ journal, site, params, body, by }) => {
      const id = params.id ?? '';
      await site.gate.accept(journal, id, by(), body.note);
      return { inUse: id };
    },
  }),
];

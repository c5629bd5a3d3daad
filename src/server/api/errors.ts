import { z } from 'zod';
import {
  JournalError,
  type JournalFault,
  JournalInputError,
  StaleError,
  schemaProblems,
} from '../../journal/index.js';
import { AccessError } from '../access/requester.js';
import { EngineBusy, EngineTimeout } from '../engine-pool.js';

/** What every refusal looks like. */
export const errorSchema = z.strictObject({
  error: z.strictObject({
    code: z.string().describe('a fixed word for programs'),
    message: z.string().describe('a sentence for people'),
    fields: z
      .array(z.strictObject({ field: z.string(), value: z.string(), allowed: z.string() }))
      .describe('what cannot be used, field by field'),
    since: z
      .array(z.looseObject({ version: z.number(), at: z.string(), who: z.string(), step: z.string() }))
      .optional()
      .describe('for stale writes: what happened since the version seen'),
  }),
});
export type ApiErrorBody = z.output<typeof errorSchema>;
type Fields = ApiErrorBody['error']['fields'];
export type ApiStatus = 400 | 401 | 403 | 404 | 405 | 409 | 413 | 415 | 422 | 429 | 500 | 503;

/** A refusal of the API itself. */
export class ApiError extends Error {
  readonly status: ApiStatus;
  readonly code: string;
  readonly fields: Fields;

  constructor(status: ApiStatus, code: string, message: string, fields: Fields = []) {
    super(message);
    this.name = 'ApiError';
    this.status = status;
    this.code = code;
    this.fields = fields;
  }
}

const STATUS: Readonly<Record<JournalFault, ApiStatus>> = {
  input: 422,
  'not-found': 404,
  stale: 409,
  refused: 409,
  'reused-key': 422,
  locked: 503,
  corrupt: 503,
  'read-only': 503,
  missing: 503,
  newer: 503,
  unreachable: 503,
  full: 503,
  disk: 503,
  closed: 503,
};

/** The answer to something thrown; undefined when nobody foresaw it. */
export function answerTo(
  error: unknown,
): { readonly status: ApiStatus; readonly body: ApiErrorBody; readonly retrySeconds?: number } | undefined {
  if (error instanceof ApiError)
    return {
      status: error.status,
      body: { error: { code: error.code, message: error.message, fields: error.fields } },
    };
  if (error instanceof AccessError)
    return { status: 403, body: { error: { code: 'right', message: error.message, fields: [] } } };
  if (error instanceof StaleError)
    return {
      status: 409,
      body: {
        error: {
          code: 'stale',
          message: error.message,
          fields: [{ field: 'seen', value: String(error.seen), allowed: String(error.present) }],
          since: error.since.map((one) => ({ ...one })),
        },
      },
    };
  if (error instanceof JournalError)
    return {
      status: STATUS[error.fault],
      body: {
        error: {
          code: error.fault,
          message: error.message,
          fields: error instanceof JournalInputError ? error.problems.map((one) => ({ ...one })) : [],
        },
      },
    };
  if (error instanceof EngineTimeout)
    return { status: 503, body: { error: { code: 'too-slow', message: error.message, fields: [] } } };
  if (error instanceof EngineBusy)
    return {
      status: 503,
      retrySeconds: error.retrySeconds,
      body: { error: { code: 'busy', message: error.message, fields: [] } },
    };
  return undefined;
}

/** Problems found by a schema as fields of a refusal. */
export const fieldsOf = (error: z.ZodError, value: unknown): Fields =>
  schemaProblems(error, value).map((one) => ({ ...one }));

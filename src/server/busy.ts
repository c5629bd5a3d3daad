import type { Context } from 'hono';
import { html } from 'hono/html';
import { say } from '../language/say.js';
import { EngineBusy, EngineTimeout } from './engine-pool.js';
import { requestIdOf } from './request-id.js';
import type { Site } from './site.js';

/** After a case that took too long there is little use in asking again at once. */
const AFTER_TIMEOUT_SECONDS = 10;

/** Whether the answer failed for want of time alone, so that the same question may be asked again. */
export const isOverload = (error: unknown): error is EngineBusy | EngineTimeout =>
  error instanceof EngineBusy || error instanceof EngineTimeout;

/**
 * The answer to a question that could not be worked out for want of time: status 503 with `Retry-After`. A page says so
 * and, when the server was only busy, is asked for again by itself; a part of a page keeps its place and does the same,
 * while everything around it stays as it was typed; a form comes back as one that can be sent again.
 */
export async function overloadAnswer(
  c: Context,
  site: Site,
  error: EngineBusy | EngineTimeout,
): Promise<Response> {
  const busy = error instanceof EngineBusy;
  const seconds = busy ? error.retrySeconds : AFTER_TIMEOUT_SECONDS;
  const reference = requestIdOf(c);
  // The path alone: the query holds the mill's case.
  site.log(`${reference} ${c.req.method} ${c.req.path}: ${error.message}`);
  c.header('Retry-After', String(seconds));
  const part = partAsked(c);
  if (part !== undefined) return c.html(sayInPlace(c, part, busy, seconds, reference), 503);
  const get = c.req.method === 'GET';
  if (busy && get) c.header('Refresh', String(seconds));
  const kept = get ? say('fault.kept-address') : say('fault.kept-page');
  const again = get ? undefined : await formAgain(c);
  const heading = say(busy ? 'fault.busy' : 'fault.too-long');
  const text = say(busy ? 'fault.busy-text' : 'fault.too-long-text', { kept });
  return c.html(
    site.page(
      'error',
      { title: heading, section: 'none' },
      { heading, text, reference, ...(again === undefined ? {} : { again }) },
    ),
    503,
  );
}

function sayInPlace(c: Context, id: string, busy: boolean, seconds: number, reference: string) {
  const url = new URL(c.req.url);
  const wait = `${seconds}\u00a0s`;
  return busy
    ? html`<div id="${id}" class="waiting" role="status" hx-get="${url.pathname}${url.search}" hx-trigger="load delay:${seconds}s" hx-swap="outerHTML"><p>${say('fault.busy-part', { wait })}</p></div>`
    : html`<div id="${id}" class="waiting" role="status"><p>${say('fault.too-long-part')} <code>${reference}</code></p></div>`;
}

/** Id of the element that a swap asked for; undefined when a whole page is wanted. */
function partAsked(c: Context): string | undefined {
  if (c.req.header('hx-request-type') !== 'partial') return undefined;
  return /#([A-Za-z][\w-]{0,60})$/.exec(c.req.header('hx-target') ?? '')?.[1];
}

/** The form that was sent, to be sent once more; its key makes that harmless. */
async function formAgain(c: Context) {
  const fields = [...(await c.req.formData())].flatMap(([name, value]) =>
    typeof value === 'string' ? [{ name, value }] : [],
  );
  const url = new URL(c.req.url);
  return { action: `${url.pathname}${url.search}`, fields };
}

import type { Context } from 'hono';
import type { KeptForm } from '../templates/journal-models.js';

/** What is not shown or sent back: secrets, and what the person did not type. */
const SECRET = /password|secret|token/i;
const NOT_TYPED = ['key', 'seen', 'who'];

/**
 * The form that was sent with this request, so that it can be sent again once the fault is mended: nothing typed is lost.
 * Undefined when none was sent or it cannot be read. Its key goes along, so that a form that was carried out after all is
 * not carried out twice.
 */
export async function keptForm(c: Context): Promise<KeptForm | undefined> {
  if (c.req.method !== 'POST') return undefined;
  try {
    const fields: { name: string; value: string }[] = [];
    let files = false;
    for (const [name, value] of await c.req.formData()) {
      if (typeof value !== 'string') files ||= value.size > 0;
      else if (SECRET.test(name)) return undefined;
      else fields.push({ name, value });
    }
    if (fields.length === 0) return undefined;
    const { pathname, search } = new URL(c.req.url);
    return {
      action: `${pathname}${search}`,
      fields,
      shown: fields
        .filter(({ name, value }) => value.trim() !== '' && !NOT_TYPED.includes(name))
        .map(({ name, value }) => ({ label: name.replace(/[-_.]+/g, ' '), text: value })),
      files,
    };
  } catch {
    // No form, or one that broke off.
    return undefined;
  }
}

import type { Context } from 'hono';

/** The texts of a form's body, files left out. */
export async function readForm(c: Context): Promise<URLSearchParams> {
  const params = new URLSearchParams();
  for (const [name, value] of await c.req.formData())
    if (typeof value === 'string') params.append(name, value);
  return params;
}

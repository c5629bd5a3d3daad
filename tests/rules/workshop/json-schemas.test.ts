import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { z } from 'zod';
import { defaultKnowledgeFolder } from '../../../src/rules/knowledge/load-knowledge.js';
import { jsonSchemas } from '../../../src/rules/workshop/json-schemas.js';

const root = defaultKnowledgeFolder();
const schemas = new Map(jsonSchemas().map((one) => [one.name, one]));

/** Reads the JSON Schema back into a checker: what it accepts then is what the JSON says. */
function checker(name: string) {
  return z.fromJSONSchema(schemas.get(name)?.schema as Parameters<typeof z.fromJSONSchema>[0]);
}

describe('JSON Schemas for editors', () => {
  it('are plain JSON that names its files', () => {
    for (const { name, files, schema } of schemas.values()) {
      expect(JSON.parse(JSON.stringify(schema))).toEqual(schema);
      expect(schema.$schema, name).toMatch(/2020-12/);
      expect(files, name).toMatch(/\.yaml$/);
    }
  });

  it('accept every file of the knowledge base', () => {
    for (const [name, folder] of [
      ['cause', 'causes'],
      ['mechanism', 'mechanisms'],
      ['symptom', 'symptoms'],
      ['check', 'checks'],
      ['action', 'actions'],
    ] as const) {
      const schema = checker(name);
      for (const file of readdirSync(join(root, folder))) {
        const result = schema.safeParse(parse(readFileSync(join(root, folder, file), 'utf8')));
        expect(result.success ? '' : `${folder}/${file}: ${result.error.message}`).toBe('');
      }
    }
  });

  it('refuse an unknown key, a wrong word, and a missing field', () => {
    const schema = checker('symptom');
    const good = parse(readFileSync(join(root, 'symptoms/cvm.yaml'), 'utf8'));
    expect(schema.safeParse(good).success).toBe(true);
    expect(schema.safeParse({ ...good, colour: 'red' }).success).toBe(false);
    expect(schema.safeParse({ ...good, group: 'weather' }).success).toBe(false);
    const { label: _, ...without } = good;
    expect(schema.safeParse(without).success).toBe(false);
  });
});

import { cpSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { KnowledgeError } from '../../src/rules/knowledge/errors.js';
import { defaultKnowledgeFolder } from '../../src/rules/knowledge/load-knowledge.js';
import { loadMill } from '../../src/rules/knowledge/load-mill.js';
import { createApp } from '../../src/server/app.js';
import { testSite } from './site.js';

const { mill, diagnostician } = testSite();
const folder = mkdtempSync(join(tmpdir(), 'peelpoint-mill-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('the demonstration mill', () => {
  it('has frames of every kind of yarn, with complete cards and no doubtful value', () => {
    expect(mill.size).toBe(8);
    const uses = new Set([...mill.values()].map((frame) => frame.card.given.endUse));
    expect([...uses].sort()).toEqual(['denim-warp', 'knitting', 'towel', 'warp', 'waste-yarn', 'weft']);
    for (const frame of mill.values()) {
      expect(
        frame.card.warnings.filter((one) => one.field.startsWith('setup')),
        frame.id,
      ).toEqual([]);
      expect(frame.card.given.values.twistPerMetre, frame.id).toBeGreaterThan(0);
    }
  });

  it('has examples whose first cause is the one the story is about', async () => {
    const expected: Record<string, readonly string[]> = {
      'frame-1': ['nozzle-too-smooth'],
      'frame-4': ['rotor-speed-too-high', 'nozzle-radius-too-large', 'nozzle-material-unsuitable'],
      'frame-7': ['rotor-groove-deposit', 'sliver-microdust', 'sliver-trash'],
    };
    for (const [id, causes] of Object.entries(expected)) {
      const example = mill.get(id)?.example;
      if (example === undefined) throw new Error(`${id} has no example`);
      const { causes: ranked } = await diagnostician.rank(example);
      expect(causes, id).toContain(ranked[0]?.id);
    }
  });

  it('may be missing from a knowledge base of one’s own', async () => {
    const none = loadMill(join(folder, 'elsewhere'), diagnostician.vocabulary);
    expect(none.size).toBe(0);
    const html = await (await createApp({ diagnostician, mill: none, log: () => {} }).request('/')).text();
    expect(html).toContain('href="/setup"');
    expect(html).not.toContain('Try an example');
  });

  it('reports a wrong card with file and field', () => {
    cpSync(join(defaultKnowledgeFolder(), 'demo-mill'), join(folder, 'demo-mill'), { recursive: true });
    writeFileSync(
      join(folder, 'demo-mill/frames/frame-9.yaml'),
      'id: frame-9\nname: Frame 9\nplace: Hall D\nyarn: none\npositions: 10\nnote: none\nsetup: {fibre: stone, count: 20 Ne}\n',
    );
    let error: unknown;
    try {
      loadMill(folder, diagnostician.vocabulary);
    } catch (caught) {
      error = caught;
    }
    expect(error).toBeInstanceOf(KnowledgeError);
    expect(String(error)).toContain('frame-9.yaml setup.fibre');
  });
});

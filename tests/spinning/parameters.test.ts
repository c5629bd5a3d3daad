import { describe, expect, it } from 'vitest';
import {
  fibreSchema,
  modelParameterFileSchema,
  modelParametersSchema,
} from '../../src/rules/knowledge/parameter-schema.js';
import {
  centralParameters,
  MODEL_PARAMETERS,
  type ParameterEntry,
  ParameterError,
  type ParameterTable,
} from '../../src/spinning/parameters.js';
import { readFolder, readTable } from './knowledge.js';

const TABLE = readTable();
const ENTRIES: [string, ParameterEntry][] = [
  ...Object.entries(TABLE.model),
  ...Object.values(TABLE.fibres).flatMap((fibre) =>
    Object.entries(fibre.parameters).map(([name, entry]): [string, ParameterEntry] => [
      `${fibre.id}/${name}`,
      entry,
    ]),
  ),
];

describe('parameter files', () => {
  it('fit their schema and give every parameter once', () => {
    const files = Object.values(readFolder('model')).map((file) => modelParameterFileSchema.parse(file));
    const names = files.flatMap((file) => Object.keys(file));
    expect(names.sort()).toEqual([...MODEL_PARAMETERS].sort());
    modelParametersSchema.parse(TABLE.model);
    for (const [name, fibre] of Object.entries(readFolder('fibres'))) {
      expect(fibreSchema.parse(fibre).id).toBe(name);
    }
  });

  it('name only sources that are listed, and cite only those that were read', () => {
    const sources = Object.assign({}, ...Object.values(readFolder('sources'))) as Record<
      string,
      { seen: string }
    >;
    for (const [name, entry] of ENTRIES) {
      if (entry.source !== undefined) expect(sources[entry.source]?.seen, name).toBe('read');
      if (entry.standing === 'published') expect(entry.source, name).toBeDefined();
    }
  });

  it('leave no figure without doubt but references and exact ones', () => {
    const certain = ENTRIES.filter(([, { spread }]) =>
      spread.kind === 'uniform' ? spread.low === spread.high : spread.sd === 0,
    ).map(([name]) => name);
    expect(certain.sort()).toEqual([
      'referenceTwistRatio',
      'requiredBindingStapleMm',
      'softWrapperReference',
      'speedLossFromRpm',
      'speedLossToRpm',
    ]);
  });
});

describe('schema', () => {
  const good = TABLE.model.axialGainShare;
  const problems = (entry: unknown): string[] => {
    const result = modelParameterFileSchema.safeParse({ axialGainShare: entry });
    return result.success ? [] : result.error.issues.map((issue) => issue.message);
  };

  it('refuses what does not fit', () => {
    expect(problems(good)).toEqual([]);
    expect(problems({ ...good, spread: { kind: 'uniform', low: 0, high: 1.2 } })).not.toEqual([]);
    expect(problems({ ...good, value: 0.9, spread: { kind: 'uniform', low: 0, high: 0.5 } })).not.toEqual([]);
    expect(problems({ ...good, spread: { kind: 'normal', sd: 0.3 } })).not.toEqual([]);
    expect(problems({ ...good, standing: 'published' })).not.toEqual([]);
    expect(problems({ ...good, colour: 'red' })).not.toEqual([]);
    expect(modelParameterFileSchema.safeParse({ axialGain: good }).success).toBe(false);
    expect(fibreSchema.safeParse({ ...TABLE.fibres.polyester, 'softens-c': undefined }).success).toBe(false);
  });
});

describe('centralParameters', () => {
  it('names what is missing', () => {
    const { falseTwistFactor: _left, ...model } = TABLE.model;
    expect(() => centralParameters({ ...TABLE, model } as unknown as ParameterTable)).toThrow(ParameterError);
    expect(() => centralParameters({ ...TABLE, model } as unknown as ParameterTable)).toThrow(
      /falseTwistFactor/,
    );
  });
});

import fc from 'fast-check';

/** Something that reads what it is given. */
export interface Target {
  readonly name: string;
  /** Inputs of one round of the test run, both seeds together. */
  readonly inputs: number;
  /** Longest time one input may take, in milliseconds, on a busy machine. */
  readonly limit?: number;
  /** Its inputs are the same whatever the seed. */
  readonly list?: boolean;
  /** Reads one input. Throws when something is not as it must be. */
  property(count: () => void, note: (input: unknown) => void): fc.IRawProperty<unknown>;
}

/** A target of inputs drawn from one source. */
export function target<T>(
  name: string,
  inputs: number,
  source: fc.Arbitrary<T>,
  check: (input: T) => void,
  limit?: number,
): Target {
  return {
    name,
    inputs,
    ...(limit === undefined ? {} : { limit }),
    property: (count, note) =>
      fc.property(source, (input) => {
        note(input);
        check(input);
        count();
      }) as fc.IRawProperty<unknown>,
  };
}

/** The same for readers that answer later. */
export function slowTarget<T>(
  name: string,
  inputs: number,
  source: fc.Arbitrary<T>,
  check: (input: T) => Promise<void>,
  limit?: number,
): Target {
  return {
    name,
    inputs,
    ...(limit === undefined ? {} : { limit }),
    property: (count, note) =>
      fc.asyncProperty(source, async (input) => {
        note(input);
        await check(input);
        count();
      }) as fc.IRawProperty<unknown>,
  };
}

/** A target of a list of inputs, each of which is read once a round. */
export function listTarget<T>(name: string, items: readonly T[], check: (item: T) => void): Target {
  return {
    name,
    inputs: 1,
    list: true,
    property: (count, note) =>
      fc.property(fc.constant(items), (all) => {
        for (const item of all) {
          note(item);
          check(item);
          count();
        }
      }) as fc.IRawProperty<unknown>,
  };
}

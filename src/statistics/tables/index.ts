/** Tables of breaks: recognising, reading and writing them. */
export { TABLE_LIMITS } from './accumulator.js';
export { inspectTable, SAMPLE_BYTES, type TableInspection } from './inspect-table.js';
export { compareNatural } from './natural-order.js';
export {
  type ColumnGuess,
  type GuessConfidence,
  kindOf,
  type MappingProposal,
  proposeMapping,
  ROLE_WORDS,
} from './propose-mapping.js';
export { checkMapping, type ReadOptions, readTable, type TableSource } from './read-table.js';
export * from './types.js';
export { type CsvCell, writeCsv } from './write-csv.js';

import { createHash } from 'node:crypto';
import type { z } from 'zod';
import { crossCheck } from './cross-check.js';
import { KnowledgeError, type KnowledgeProblem } from './errors.js';
import type { RuleBook } from './knowledge-base.js';
import { type KnowledgeFiles, readText, yamlNames } from './knowledge-files.js';
import { rememberedReading, rememberReading } from './remembered-readings.js';
import {
  actionSchema,
  causeSchema,
  cautionsSchema,
  checkSchema,
  mechanismSchema,
  sourcesSchema,
  symptomSchema,
} from './schema.js';
import { readYaml } from './yaml-file.js';

/** What a folder read gives: the values and what was wrong. */
export interface FolderReader {
  readonly problems: KnowledgeProblem[];
  /** Texts read so far, for the version hash. */
  readonly digest: ReturnType<typeof createHash>;
  readonly root: KnowledgeFiles;
}

/**
 * Reads the causal graph, checks and actions below `root`.
 * @throws KnowledgeError listing every problem of every file
 */
export function loadRuleBook(root: KnowledgeFiles): RuleBook {
  const reader = openReader(root);
  const book = readRuleBook(reader);
  const problems = reader.problems.length > 0 ? reader.problems : crossCheck(book);
  if (problems.length > 0) throw new KnowledgeError(problems);
  return book;
}

/** Starts reading a knowledge-base folder. */
export function openReader(root: KnowledgeFiles): FolderReader {
  return { problems: [], digest: createHash('sha256'), root };
}

/** Reads the rule files; problems are collected in the reader, files with problems are left out. */
export function readRuleBook(reader: FolderReader): RuleBook {
  return {
    causes: readById(reader, 'causes', causeSchema),
    mechanisms: readById(reader, 'mechanisms', mechanismSchema),
    symptoms: readById(reader, 'symptoms', symptomSchema),
    checks: readById(reader, 'checks', checkSchema),
    actions: readById(reader, 'actions', actionSchema),
    cautions: new Map(Object.entries(readOne(reader, 'cautions.yaml', cautionsSchema) ?? {})),
    sources: readMerged(reader, 'sources', sourcesSchema),
  };
}

/** Names of the YAML files of a folder, sorted. */
function yamlFiles(reader: FolderReader, folder: string): string[] {
  const names = yamlNames(reader.root, folder);
  if (names === undefined)
    reader.problems.push({ file: folder, line: undefined, field: '', message: 'this folder is missing' });
  return names ?? [];
}

/** One file against its schema; undefined (and a problem noted) when it does not fit. */
export function readOne<T>(reader: FolderReader, file: string, schema: z.ZodType<T>): T | undefined {
  const text = readText(reader.root, file);
  if (text === undefined) {
    reader.problems.push({
      file,
      line: undefined,
      field: '',
      message: 'this file is missing or cannot be read',
    });
    return undefined;
  }
  reader.digest.update(file).update('\0').update(text).update('\0');
  const remembered = rememberedReading(schema, text);
  if (remembered !== undefined) return remembered.value;
  const result = readYaml(file, text, schema);
  if (result.ok) return rememberReading(schema, text, result.value);
  reader.problems.push(...result.problems);
  return undefined;
}

/** A folder of files that each hold one thing whose id is the file's name. */
export function readById<T extends { id: string }>(
  reader: FolderReader,
  folder: string,
  schema: z.ZodType<T>,
): Map<string, T> {
  const found = new Map<string, T>();
  for (const name of yamlFiles(reader, folder)) {
    const file = `${folder}/${name}`;
    const value = readOne(reader, file, schema);
    if (value === undefined) continue;
    if (`${value.id}.yaml` !== name)
      reader.problems.push({
        file,
        line: 1,
        field: 'id',
        message: `must be "${name.replace(/\.yaml$/, '')}", the file's name`,
      });
    found.set(value.id, value);
  }
  return found;
}

/** A folder of files that each map ids to things; an id may stand in one file only. */
export function readMerged<T>(
  reader: FolderReader,
  folder: string,
  schema: z.ZodType<Record<string, T>>,
): Map<string, T> {
  const found = new Map<string, T>();
  for (const name of yamlFiles(reader, folder)) {
    const file = `${folder}/${name}`;
    for (const [id, value] of Object.entries(readOne(reader, file, schema) ?? {})) {
      if (found.has(id))
        reader.problems.push({ file, line: undefined, field: id, message: 'stands in another file too' });
      found.set(id, value);
    }
  }
  return found;
}

import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/**
 * Where a knowledge base is read from: its folder, or the texts of its files by their path below the folder (`/`
 * between the parts), as they were read at one moment or kept somewhere else.
 */
export type KnowledgeFiles = string | ReadonlyMap<string, string>;

/** The text of a file; undefined when it is missing or cannot be read. */
export function readText(files: KnowledgeFiles, file: string): string | undefined {
  if (typeof files !== 'string') return files.get(file);
  try {
    return readFileSync(join(files, file), 'utf8');
  } catch {
    return undefined;
  }
}

/** Names of the YAML files that lie in a folder, sorted; undefined when there is no such folder. */
export function yamlNames(files: KnowledgeFiles, folder: string): string[] | undefined {
  if (typeof files === 'string') {
    const path = join(files, folder);
    if (!existsSync(path)) return undefined;
    return readdirSync(path)
      .filter((name) => name.endsWith('.yaml'))
      .sort();
  }
  const names = [...files.keys()]
    .filter((path) => path.startsWith(`${folder}/`))
    .map((path) => path.slice(folder.length + 1));
  if (names.length === 0) return undefined;
  return names.filter((name) => name.endsWith('.yaml') && !name.includes('/')).sort();
}

/** Names of the folders that lie in a folder, sorted; none when there is no such folder. */
export function folderNames(files: KnowledgeFiles, folder: string): string[] {
  if (typeof files === 'string') {
    const path = join(files, folder);
    if (!existsSync(path)) return [];
    return readdirSync(path, { withFileTypes: true })
      .filter((entry) => entry.isDirectory())
      .map((entry) => entry.name)
      .sort();
  }
  const below = [...files.keys()].filter((path) => path.startsWith(`${folder}/`));
  const names = below.map((path) => path.slice(folder.length + 1).split('/'));
  return [...new Set(names.flatMap(([name = '', ...rest]) => (rest.length > 0 ? [name] : [])))].sort();
}

/** Whether there is a file of that name, or a folder with files in it. */
export const isThere = (files: KnowledgeFiles, path: string): boolean =>
  typeof files === 'string'
    ? existsSync(join(files, path))
    : files.has(path) || yamlNames(files, path) !== undefined;

/** The texts of all YAML files below a folder as they are now, sorted by path; none when there is no such folder. */
export function readAllTexts(root: string): ReadonlyMap<string, string> {
  if (!existsSync(root)) return new Map();
  const paths = readdirSync(root, { recursive: true, encoding: 'utf8' })
    .map((path) => path.replaceAll('\\', '/'))
    .filter((path) => path.endsWith('.yaml'))
    .sort();
  const texts = new Map<string, string>();
  for (const path of paths) {
    const text = readText(root, path);
    if (text !== undefined) texts.set(path, text);
  }
  return texts;
}

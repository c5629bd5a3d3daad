import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Draft } from './finding.js';

/** Word that marks a placeholder. */
export const TO_DO = 'TODO';

/** Lines of the knowledge-base files that still hold a placeholder. The line stands as the path `[line]`. */
export function lintToDo(root: string): (Draft & { readonly line: number })[] {
  return yamlFilesBelow(root).flatMap((file) =>
    readFileSync(join(root, file), 'utf8')
      .split('\n')
      .flatMap((text, i) =>
        new RegExp(`\\b${TO_DO}\\b`).test(text)
          ? [
              {
                code: 'to-do' as const,
                file,
                path: [],
                line: i + 1,
                message: `placeholder left: ${text.trim().slice(0, 80)}`,
                hint: 'Write what is true.',
              },
            ]
          : [],
      ),
  );
}

/** Paths below `root` of all YAML files, sorted. */
function yamlFilesBelow(root: string, folder = ''): string[] {
  return readdirSync(join(root, folder))
    .sort()
    .flatMap((name) => {
      const path = folder === '' ? name : `${folder}/${name}`;
      if (statSync(join(root, path)).isDirectory()) return yamlFilesBelow(root, path);
      return name.endsWith('.yaml') ? [path] : [];
    });
}

import { join, resolve, sep } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';

const ROOT = fileURLToPath(new URL('../../../', import.meta.url));

/**
 * Puts the writer into one file that stands on the product's build: started for each round, from its sources it takes
 * three times as long. The build must be there.
 * @returns where the file is
 */
export async function bundleWriter(folder: string): Promise<string> {
  const outfile = join(folder, 'writer.mjs');
  await build({
    entryPoints: [join(import.meta.dirname, 'writer.ts')],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'esm',
    logLevel: 'error',
    plugins: [
      {
        name: 'the product from its build',
        setup: (bundle) => {
          bundle.onResolve({ filter: /\/src\// }, ({ path, resolveDir }) => {
            const source = resolve(resolveDir, path);
            const built = join(ROOT, 'dist', source.slice(join(ROOT, 'src', sep).length));
            return { path: pathToFileURL(built).href, external: true };
          });
        },
      },
    ],
  });
  return outfile;
}

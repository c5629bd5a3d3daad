import { join } from 'node:path';
import chromium from '@sparticuz/chromium';
import { type Browser, chromium as playwright } from 'playwright-core';
import { endAtOnce, madeOnce } from '../shared/folder.js';

let started: Promise<Browser> | undefined;

/**
 * The browser of this worker: started once, ended with the worker's process. It comes with the packages and is unpacked
 * once a run.
 */
export function sharedBrowser(): Promise<Browser> {
  endAtOnce();
  started ??= launch();
  return started;
}

async function launch(): Promise<Browser> {
  const folder = await madeOnce('chromium', unpack);
  const executablePath = join(folder, 'chromium');
  // As root there is no sandbox; the pages are our own.
  const args = ['--no-sandbox', '--disable-dev-shm-usage', '--font-render-hinting=none'];
  try {
    return await playwright.launch({ executablePath, args });
  } catch {
    // A bare machine lacks the libraries; a set of them comes with the package.
    const libraries = join(folder, 'al2023', 'lib');
    return playwright.launch({
      executablePath,
      args,
      env: { ...process.env, LD_LIBRARY_PATH: libraries, FONTCONFIG_PATH: join(folder, 'fonts') },
    });
  }
}

/** Unpacks browser, libraries and fonts into the folder; the package does so into the temporary folder of the moment. */
async function unpack(folder: string): Promise<void> {
  const before = { TMPDIR: process.env.TMPDIR, AWS_LAMBDA_JS_RUNTIME: process.env.AWS_LAMBDA_JS_RUNTIME };
  Object.assign(process.env, { TMPDIR: folder, AWS_LAMBDA_JS_RUNTIME: 'nodejs20.x' });
  try {
    await chromium.executablePath();
  } finally {
    for (const [name, value] of Object.entries(before)) {
      if (value === undefined) delete process.env[name];
      else process.env[name] = value;
    }
  }
}

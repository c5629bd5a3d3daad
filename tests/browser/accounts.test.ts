import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterEach, describe, expect, it } from 'vitest';
import { pageFaults } from './audit.js';
import { type Bench, DESK, openBench, PHONE, picture } from './browser.js';

const PASSWORD = 'seven grey herons wait';
const WAYS = [
  ['phone, without scripting', PHONE, false],
  ['desk, with scripting', DESK, true],
] as const;
const press = (page: Page, name: string | RegExp) => page.getByRole('button', { name }).click();
const follow = (page: Page, name: string | RegExp) => page.getByRole('link', { name }).first().click();

let bench: Bench | undefined;
let folder = '';
afterEach(async () => {
  await bench?.close();
  rmSync(folder, { recursive: true, force: true });
});

/** What is wrong with a page as it stands, and which page it is. */
async function faults(page: Page): Promise<string[]> {
  const { pathname } = new URL(page.url());
  return (await pageFaults(page)).map((fault) => `${pathname}: ${fault}`);
}

describe.each(WAYS)('%s', (name, size, scripting) => {
  it('from the first link to a supervisor who opens a case and signs out everywhere', async () => {
    folder = mkdtempSync(join(tmpdir(), 'peelpoint-accounts-'));
    const lines: string[] = [];
    bench = await openBench({ folder, demo: false }, (line) => lines.push(line));
    const { server, open } = bench;
    const found: string[] = [];
    const look = async (page: Page, what: string) => {
      await picture(page, `access-${what}-${size.width}-${scripting}`, true);
      if (scripting) found.push(...(await faults(page)));
    };
    const anybody = await open('/', { size, scripting });
    await anybody.getByRole('heading', { name: /^Why does the frame/ }).waitFor();
    await expect.poll(() => lines.join('\n')).toContain('/set-password?link=');
    const link = /\/set-password\?link=[\w-]+/.exec(lines.join('\n'))?.[0] ?? '';

    const ada = await open(link, { size, scripting });
    await ada.locator('#f-name').fill('ada');
    await ada.locator('#f-shown').fill('Ada Lind');
    await ada.locator('#f-password').fill('password1234');
    await ada.locator('#f-again').fill('password1234');
    await press(ada, 'Make the administrator');
    await ada.locator('.error-summary').waitFor();
    expect(await ada.locator('#f-shown').inputValue()).toBe('Ada Lind');
    expect(await ada.locator('#f-password').inputValue()).toBe('');
    await look(ada, 'first');
    await ada.locator('#f-password').fill(PASSWORD);
    await ada.locator('#f-again').fill(PASSWORD);
    await press(ada, 'Make the administrator');
    await ada.getByRole('heading', { name: 'Accounts', exact: true }).waitFor();
    await look(ada, 'accounts');
    await follow(ada, 'Make an account');
    await ada.locator('#f-name').fill('sam');
    await ada.locator('#f-shown').fill('Sam Shift');
    await look(ada, 'new');
    await press(ada, 'Make the account');
    await ada.getByRole('heading', { name: 'One-time link for Sam Shift' }).waitFor();
    await look(ada, 'link');
    const own = new URL((await ada.locator('.secret code').textContent()) ?? '');

    // Whoever was there before is a stranger now.
    await anybody.goto(`${server.address}/journal`);
    await anybody.getByRole('heading', { name: 'Sign in' }).waitFor();
    await look(anybody, 'sign-in');

    const sam = await open(`${own.pathname}${own.search}`, { size, scripting });
    await sam.locator('#f-password').fill(PASSWORD);
    await sam.locator('#f-again').fill(PASSWORD);
    await press(sam, 'Set the password and sign in');
    await sam.getByRole('link', { name: 'Sam Shift' }).waitFor();
    await sam.goto(`${server.address}/cases/new`);
    await sam.locator('#f-title').fill('Breaks on position 12');
    expect(await sam.locator('#f-who').count()).toBe(0);
    await press(sam, 'Open the case');
    await sam.getByText(/^Case \d+: Open$/).waitFor();
    expect(await sam.locator('.history').textContent()).toContain('Sam Shift');
    await sam.goto(`${server.address}/accounts`);
    await sam.getByRole('heading', { name: 'This is not for your account' }).waitFor();
    await look(sam, 'refused');

    // A session that ends while something is typed costs nothing.
    await sam.goto(`${server.address}/cases/case-1/record/noted`);
    await sam.locator('#f-note').fill('The nozzle looks worn.');
    const elsewhere = await open('/sign-in', { size, scripting });
    await elsewhere.locator('#f-name').fill('sam');
    await elsewhere.locator('#f-password').fill('wrong wrong wrong');
    await press(elsewhere, 'Sign in');
    await elsewhere.locator('.error-summary').waitFor();
    await elsewhere.locator('#f-password').fill(PASSWORD);
    await press(elsewhere, 'Sign in');
    await elsewhere.getByRole('link', { name: 'Sam Shift' }).click();
    await elsewhere.getByRole('heading', { name: 'Sam Shift' }).waitFor();
    await look(elsewhere, 'own');
    await press(elsewhere, 'Sign out everywhere, here too');
    await elsewhere.getByRole('heading', { name: 'Sign in' }).waitFor();
    await press(sam, 'Keep the note');
    await sam.getByText('It is kept on this page').waitFor();
    await look(sam, 'kept');
    await sam.locator('#f-name').fill('sam');
    await sam.locator('#f-password').fill(PASSWORD);
    await press(sam, 'Sign in');
    await sam.getByText('The nozzle looks worn.').waitFor();
    await look(sam, 'send');
    await press(sam, 'Send it');
    await sam.getByText(/^Case \d+: Open$/).waitFor();
    expect(await sam.locator('.history').textContent()).toContain('The nozzle looks worn.');

    await ada.goto(`${server.address}/audit`);
    const log = (await ada.locator('#audit').textContent()) ?? '';
    for (const words of ['Sam Shift', 'case: opened', 'signed out everywhere', 'refused', '127.0.0.1'])
      expect(log).toContain(words);
    await look(ada, 'audit');
    await ada.goto(`${server.address}/tokens`);
    await ada.locator('#f-name').fill('panel 3');
    await press(ada, 'Make a token');
    await ada.getByText('It is not shown again.').waitFor();
    await follow(ada, 'All tokens');
    await ada.getByRole('button', { name: 'Revoke “panel 3”' }).waitFor();
    await look(ada, 'tokens');
    await follow(ada, 'Accounts');
    await follow(ada, 'Sam Shift');
    await ada.getByRole('button', { name: 'Block' }).waitFor();
    await look(ada, 'account');
    await press(ada, 'Block');
    await ada.getByRole('button', { name: 'Unblock' }).waitFor();
    await sam.goto(`${server.address}/journal`);
    await sam.getByRole('heading', { name: 'Sign in' }).waitFor();
    expect(found, name).toEqual([]);
    // Refusals and forms to be mended are told to the console by their status, and rightly so.
    expect(bench.complaints().filter((line) => !/status of (401|403|422)/.test(line))).toEqual([]);
  }, 120_000);
});

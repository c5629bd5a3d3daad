import fc from 'fast-check';
import { Hono } from 'hono';
import { describe, expect, it } from 'vitest';
import { ROLE_WORDS } from '../../../src/cli/commands/account.js';
import { RIGHTS as TOKEN_WORDS } from '../../../src/cli/commands/token.js';
import { ROLES, TOKEN_RIGHTS } from '../../../src/journal/index.js';
import { clientAddress, isProxyAddress, readProxies } from '../../../src/server/access/address.js';
import { whyTooCommon } from '../../../src/server/access/common-passwords.js';
import { startLimits } from '../../../src/server/access/limits.js';
import { localPath } from '../../../src/server/access/local-path.js';
import { checkPassword, hashPassword, requireGoodPassword } from '../../../src/server/access/passwords.js';
import { hasLoopbackHost, isLoopback, readOrigin } from '../../../src/server/access/settings.js';

describe('passwords', () => {
  it('are hashed with argon2id, salted, and told apart', async () => {
    const hash = await hashPassword('seven grey herons');
    expect(hash).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
    expect(await hashPassword('seven grey herons')).not.toBe(hash);
    expect(await checkPassword(hash, 'seven grey herons')).toBe(true);
    expect(await checkPassword(hash, 'seven grey heron')).toBe(false);
    // Composed or not, people see the same.
    expect(await checkPassword(await hashPassword('Spinnmühle am Fluß'), 'Spinnmu\u0308hle am Fluß')).toBe(
      true,
    );
    expect(await checkPassword(null, 'nobody has this password')).toBe(false);
    expect(await checkPassword(undefined, 'nobody has this password')).toBe(false);
  });

  it('do not hold up the loop while they are hashed', async () => {
    let turns = 0;
    const timer = setInterval(() => turns++, 1);
    await Promise.all(Array.from({ length: 6 }, () => hashPassword('seven grey herons')));
    clearInterval(timer);
    expect(turns).toBeGreaterThan(3);
  });

  it.each([
    ['short', 'at least 12'],
    ['', 'at least 12'],
    ['x'.repeat(257), 'at most 256'],
    ['password1234', 'well-known words'],
    ['P@ssw0rd!2026', 'well-known words'],
    ['Peelpoint2026', 'well-known words'],
    ['rotorspinning1', 'well-known words'],
    ['ruth.berg-2026', 'well-known words'],
    ['abcabcabcabc', 'few different characters'],
    ['abcdabcdabcd', 'repeat'],
    ['qwertyuiopqwe', 'row of keys'],
    ['234567890123', 'row of keys'],
    ['zyxwvutsrqpo', 'row of keys'],
    ['michelle123456', 'used most'],
    ['chocolate1234', 'used most'],
    ['jennifer19851', 'used most'],
    ['1q2w3e4r5t6y', 'well-known words'],
  ])('such as %s are refused', async (password, words) => {
    await expect(requireGoodPassword(password, ['ruth.berg', 'Ruth Berg'])).rejects.toThrow(words);
  });

  it.each([
    'seven grey herons wait',
    'correct horse battery staple',
    'Füße im Spinnsaal, dreimal!',
    'k8#vQ2!mZp0_ww',
    `${'x'.repeat(60)} and some more words`,
    'trockene luft um vier',
  ])('such as %s are taken', async (password) => {
    await expect(requireGoodPassword(password, ['ruth.berg', 'Ruth Berg'])).resolves.toBeUndefined();
  });

  it('of any kind get an answer, quickly', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 300, unit: 'grapheme' }), fc.array(fc.string()), (password, own) => {
        const why = whyTooCommon(password, own);
        expect(why === undefined || why.startsWith('a password')).toBe(true);
      }),
    );
  });
});

describe('the way back after the sign-in', () => {
  it('never leads to another server', () => {
    const nasty = fc.oneof(
      fc.webUrl(),
      fc.string({ maxLength: 60 }),
      fc
        .array(
          fc.constantFrom(
            '/',
            '\\',
            '//',
            ':',
            '@',
            'evil.test',
            '.',
            '..',
            '%2f',
            '%5c',
            '\t',
            '\n',
            '?',
            '#',
            'a',
            'javascript:',
          ),
          { maxLength: 12 },
        )
        .map((parts) => parts.join('')),
    );
    fc.assert(
      fc.property(nasty, (text) => {
        const path = localPath(text);
        const url = new URL(path, 'https://plant.test');
        expect(url.origin).toBe('https://plant.test');
        expect(path.startsWith('/') && !path.startsWith('//') && !path.includes('\\')).toBe(true);
        // What has been checked stays as it is.
        expect(localPath(path)).toBe(path);
      }),
      { numRuns: 3000 },
    );
  });

  it('keeps what is ours', () => {
    for (const path of [
      '/',
      '/cases?state=open',
      '/bench?observations.end-breaks=marked&x=%2F',
      '/cases/case-1#step-2',
    ])
      expect(localPath(path)).toBe(path);
    for (const path of [
      '//evil.test',
      '/\\evil.test',
      '/\t/evil.test',
      'evil',
      '',
      undefined,
      '/sign-in?x',
      '/./sign-out',
      '/..//evil.test',
    ])
      expect(localPath(path), String(path)).toBe('/');
  });
});

describe('addresses', () => {
  const app = new Hono().get('/', (c) =>
    c.text(clientAddress(c, readProxies(['10.0.0.0/8', '::1', '127.0.0.1']))),
  );
  const ask = async (remote: string, forwarded?: string) =>
    (
      await app.request('/', forwarded === undefined ? {} : { headers: { 'X-Forwarded-For': forwarded } }, {
        incoming: { socket: { remoteAddress: remote } },
      })
    ).text();

  it('come from the connection, and from a proxy only when it is ours', async () => {
    expect(await ask('192.0.2.7', '198.51.100.1')).toBe('192.0.2.7');
    expect(await ask('::ffff:192.0.2.7')).toBe('192.0.2.7');
    expect(await ask('10.1.2.3', '198.51.100.1')).toBe('198.51.100.1');
    // What the client itself wrote in front does not count.
    expect(await ask('10.1.2.3', '203.0.113.9, 198.51.100.1, 10.9.9.9')).toBe('198.51.100.1');
    expect(await ask('10.1.2.3', 'unknown')).toBe('10.1.2.3');
    expect(await ask('10.1.2.3')).toBe('10.1.2.3');
    expect(await ask('10.1.2.3', '10.0.0.1, 10.0.0.2')).toBe('10.0.0.1');
  });

  it('of proxies are addresses or networks', () => {
    for (const good of ['10.0.0.5', '10.0.0.0/8', '::1', 'fd00::/8'])
      expect(isProxyAddress(good), good).toBe(true);
    for (const bad of ['proxy', '', '10.0.0.0/33', '10.0.0.0/x', '10.0.0', 'fd00::/129'])
      expect(isProxyAddress(bad), bad).toBe(false);
    fc.assert(fc.property(fc.string(), (text) => typeof isProxyAddress(text) === 'boolean'));
  });

  it('of this computer are told from others', () => {
    for (const host of ['127.0.0.1', '127.8.8.8', 'localhost', 'LOCALHOST', '::1', '[::1]', 'a.localhost'])
      expect(isLoopback(host), host).toBe(true);
    for (const host of [
      '0.0.0.0',
      '::',
      '10.0.0.1',
      'localhost.evil.test',
      '127.0.0.1.evil.test',
      'evil-localhost',
      '127.1',
    ])
      expect(isLoopback(host), host).toBe(false);
    for (const host of ['localhost:4680', '127.0.0.1', '[::1]:80'])
      expect(hasLoopbackHost(host), host).toBe(true);
    for (const host of [
      undefined,
      '',
      'evil.test',
      'localhost@evil.test',
      'localhost:80:90',
      'evil.test:127.0.0.1',
    ])
      expect(hasLoopbackHost(host), String(host)).toBe(false);
  });

  it('under which browsers see the server have a scheme and a name, and nothing behind', () => {
    expect(readOrigin('https://plant.test')).toBe('https://plant.test');
    expect(readOrigin(' https://plant.test:8443/ ')).toBe('https://plant.test:8443');
    for (const bad of [
      'plant.test',
      'ftp://plant.test',
      'https://plant.test/app',
      'https://plant.test?',
      'https://a:b@plant.test',
      'https://plant.test#x',
      '',
    ])
      expect(readOrigin(bad), bad).toBeUndefined();
    fc.assert(
      fc.property(
        fc.oneof(fc.string(), fc.webUrl({ withQueryParameters: true, withFragments: true })),
        (text) => {
          const origin = readOrigin(text);
          expect(origin === undefined || new URL(origin).origin === origin).toBe(true);
        },
      ),
    );
  });
});

describe('limits and words', () => {
  it('are counted by key and say how long to wait', async () => {
    const limits = startLimits({ person: 2, stranger: 1, client: 1, 'sign-in': 1, 'wrong-token': 1 });
    expect([await limits.take('person', 'a'), await limits.take('person', 'a')]).toEqual([0, 0]);
    const wait = await limits.take('person', 'a');
    expect(wait).toBeGreaterThan(0);
    expect(wait).toBeLessThanOrEqual(60);
    expect(await limits.take('person', 'b')).toBe(0);
  });

  it('of the command line are those of the journal', () => {
    expect(ROLE_WORDS).toEqual(ROLES);
    expect(TOKEN_WORDS).toEqual(TOKEN_RIGHTS);
  });
});

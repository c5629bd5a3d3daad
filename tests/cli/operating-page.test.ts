import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { serve } from '../../src/cli/commands/serve.js';
import { run, unwrapped } from './fake-terminal.js';

const page = readFileSync('docs/operating.md', 'utf8');
const { environment = {} } = serve;

/** The table of the page as it follows from the command. */
const rows = [
  '| Option | In the environment | What it does |',
  '| --- | --- | --- |',
  ...Object.entries(serve.options).map(
    ([name, { value, env, help }]) =>
      `| \`--${name}${value === undefined ? '' : ` ${value}`}\` | ${env === undefined ? '' : `\`${env}\``} | ${help} |`,
  ),
  ...Object.entries(environment).map(([name, help]) => `| | \`${name}\` | ${help} |`),
].join('\n');

describe('the options of serve', () => {
  it('are in the page on operating, each with its variable, and no others', () => {
    expect(page).toContain(`\n\n${rows}\n\n`);
  });

  it('are in its help, with their variables', async () => {
    const { code, out } = await run(['serve', '--help']);
    expect(code).toBe(0);
    const help = unwrapped(out).replace(/\s+/g, ' ');
    for (const [name, { env }] of Object.entries(serve.options)) {
      expect(help).toContain(`--${name}`);
      if (env !== undefined) expect(help).toContain(env);
    }
    for (const name of Object.keys(environment)) expect(help).toContain(name);
  });

  it('that read the environment are all that do: no variable is read that is not told', () => {
    const told = [
      ...Object.keys(environment),
      ...Object.values(serve.options).flatMap(({ env }) => (env === undefined ? [] : [env])),
    ];
    expect(new Set(told).size).toBe(told.length);
  });
});

describe('what is taken from the environment', () => {
  const set = async (variables: Record<string, string>, args: string[] = []) => {
    Object.assign(process.env, variables);
    try {
      return await run(['serve', '--data', '/nowhere/at/all', ...args]);
    } finally {
      for (const name of Object.keys(variables)) delete process.env[name];
    }
  };

  it('is refused under the name it was given by', async () => {
    const port = await set({ PEELPOINT_PORT: 'many' });
    expect(port.code).toBe(2);
    expect(unwrapped(port.err)).toContain('PEELPOINT_PORT');
    const level = await set({ PEELPOINT_LOG_LEVEL: 'loud' });
    expect(unwrapped(level.err)).toMatch(/PEELPOINT_LOG_LEVEL.*loud/);
    const addresses = await set({ PEELPOINT_LOG_ADDRESSES: 'perhaps' });
    expect(unwrapped(addresses.err)).toContain('PEELPOINT_LOG_ADDRESSES');
    const token = await set({ PEELPOINT_METRICS_TOKEN: 'short' });
    expect(unwrapped(token.err)).toContain('PEELPOINT_METRICS_TOKEN');
    expect(token.err).not.toContain('short"');
  });

  it('gives way to what is typed', async () => {
    const typed = await set({ PEELPOINT_PORT: '70001' }, ['--port', 'x']);
    expect(unwrapped(typed.err)).toContain('--port');
    expect(typed.err).not.toContain('PEELPOINT_PORT');
  });
});

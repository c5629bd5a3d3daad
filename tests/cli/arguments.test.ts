import { describe, expect, it } from 'vitest';
import { readArguments } from '../../src/cli/arguments.js';
import type { Command } from '../../src/cli/command.js';
import { COMMANDS } from '../../src/cli/commands.js';
import { InputError } from '../../src/cli/errors.js';
import { run, unwrapped } from './fake-terminal.js';

const command: Command = {
  name: 'weigh',
  summary: '',
  about: [],
  arguments: [
    { name: 'FILE', help: 'a file' },
    { name: 'MORE', help: 'another', optional: true },
  ],
  options: { json: { help: '' }, top: { value: 'N', help: '' } },
  examples: [],
  run: async () => 0,
};

const problemsOf = (words: string[]) => {
  try {
    readArguments(command, words);
    return [];
  } catch (error) {
    if (error instanceof InputError) return error.problems;
    throw error;
  }
};

describe('reading arguments', () => {
  it('takes options before, between and behind the arguments', () => {
    const given = readArguments(command, ['--top', '3', 'a', '--json', 'b']);
    expect(given.arguments).toEqual(['a', 'b']);
    expect(given.options.get('top')).toBe('3');
    expect(given.options.get('json')).toBe(true);
    expect(readArguments(command, ['a', '--top=5']).options.get('top')).toBe('5');
  });

  it('takes - for standard input, negative numbers, and anything behind --', () => {
    expect(readArguments(command, ['-', '-40 C']).arguments).toEqual(['-', '-40 C']);
    expect(readArguments(command, ['--', '--json']).arguments).toEqual(['--json']);
    expect(readArguments(command, ['a', '--top', '-3']).options.get('top')).toBe('-3');
  });

  it('names every wrong word at once', () => {
    const problems = problemsOf(['a', 'b', 'c', '--jsom', '--top']);
    expect(problems.map((problem) => problem.field)).toEqual(['--jsom', '--top', 'argument']);
    expect(problems[0]?.message).toContain('did you mean "--json"');
    expect(problems[0]?.allowed).toContain('--json');
    expect(problems[2]?.value).toBe('c');
  });

  it('refuses a missing argument, a value too many and a value missing', () => {
    expect(problemsOf([])[0]).toMatchObject({ field: 'FILE', message: 'is missing' });
    expect(problemsOf(['a', '--json=yes'])[0]?.message).toContain('takes no value');
    expect(problemsOf(['a', '--top', '--json'])[0]).toMatchObject({
      field: '--top',
      message: 'needs a value',
    });
  });

  it('does not mistake names of built-in properties for options', () => {
    for (const name of ['__proto__', 'constructor', 'toString'])
      expect(problemsOf(['a', `--${name}`])[0]?.field).toBe(`--${name}`);
  });
});

describe('finding commands', () => {
  it('shows every command in the overview, and exits 0', async () => {
    for (const argv of [['help'], ['--help'], ['-h']]) {
      const { code, out } = await run(argv);
      expect(code).toBe(0);
      for (const { name } of COMMANDS) expect(out).toContain(name);
    }
  });

  it('shows the overview on standard error without a command, and exits 2', async () => {
    const { code, out, err } = await run([]);
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain('diagnose');
  });

  it('gives the version of the package', async () => {
    const { code, out } = await run(['--version']);
    expect(code).toBe(0);
    expect(out).toMatch(/^peelpoint \d+\.\d+\.\d+/);
  });

  it.each(COMMANDS.map((one) => one.name))('has help for %s by either way', async (name) => {
    const words = name.split(' ');
    const help = await run(['help', ...words]);
    const option = await run([...words, '--help']);
    expect(help.code).toBe(0);
    expect(option.out).toBe(help.out);
    expect(help.out).toContain(`peelpoint ${name}`);
    for (const line of help.out.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
  });

  it('lists the commands of a group', async () => {
    const { code, out } = await run(['help', 'knowledge']);
    expect(code).toBe(0);
    expect(out).toContain('knowledge check');
    expect(out).not.toContain('diagnose FILE');
  });

  it('refuses an unknown command with the nearest and all that are known', async () => {
    const { code, out, err } = await run(['diagnos', 'x.yaml']);
    expect([code, out]).toEqual([2, '']);
    expect(unwrapped(err)).toContain('"diagnos" is not a command; did you mean "diagnose"?');
    expect(err).toContain('convert');
  });

  it('refuses an unknown or missing second word', async () => {
    const unknown = await run(['knowledge', 'chek']);
    expect(unknown.code).toBe(2);
    expect(unknown.err).toContain('did you mean "check"');
    const missing = await run(['knowledge']);
    expect(missing.code).toBe(2);
    expect(missing.err).toContain('check, list, show, test, new, schema, diff, replay, signs');
    expect((await run(['help', 'nothing'])).code).toBe(2);
  });

  it('refuses an unknown option with what is allowed', async () => {
    const { code, err } = await run(['diagnose', 'x.yaml', '--tpo', '3']);
    expect(code).toBe(2);
    expect(err).toContain('--tpo');
    expect(err).toContain('--top');
  });

  it('says it in JSON too when JSON is wanted', async () => {
    const { code, out } = await run(['diagnose', '--json']);
    expect(code).toBe(2);
    expect(JSON.parse(out).problems).toMatchObject([{ field: 'FILE', message: 'is missing' }]);
  });

  it('refuses a port that is none', async () => {
    for (const port of ['65536', '-1', 'http', '1.5']) {
      const { code, err } = await run(['serve', '--port', port]);
      expect(code).toBe(2);
      expect(unwrapped(err)).toContain('a whole number from 0 to 65535');
    }
  });
});

import { say } from '../../language/say.js';
import { setupLabel } from '../../rules/case/setup-fields.js';
import { SETUP_PATHS } from '../../rules/case/types.js';

/** A setup field's name in plain words: "Rotor speed", "Rotor speed before the trouble"; undefined for other fields. */
export function setupLabelOf(name: string): string | undefined {
  for (const [start, earlier] of [
    ['setup.', false],
    ['before.', true],
  ] as const) {
    if (!name.startsWith(start)) continue;
    const path = SETUP_PATHS.find((one) => one === name.slice(start.length));
    if (path === undefined) return say('setup.setup-field', { field: name.slice(start.length) });
    return earlier ? say('setup.before-trouble', { field: setupLabel(path) }) : setupLabel(path);
  }
  return undefined;
}

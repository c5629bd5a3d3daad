import { setupLabel } from '../../rules/case/setup-fields.js';
import { SETUP_PATHS } from '../../rules/case/types.js';

/** A setup field's name in plain words: "Rotor speed", "Rotor speed before the trouble"; undefined for other fields. */
export function setupLabelOf(name: string): string | undefined {
  for (const [start, end] of [
    ['setup.', ''],
    ['before.', ' before the trouble'],
  ] as const) {
    if (!name.startsWith(start)) continue;
    const path = SETUP_PATHS.find((one) => one === name.slice(start.length));
    return path === undefined ? `Setup field “${name.slice(start.length)}”` : `${setupLabel(path)}${end}`;
  }
  return undefined;
}

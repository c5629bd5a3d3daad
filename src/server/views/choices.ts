import { say } from '../../language/say.js';
import type { ChoiceView, OptionView } from '../../templates/models.js';
import { controlId } from './errors.js';

/** Options with their ids; the first has the control's own id, so that a link to the control lands on it. */
export function viewOptions(
  name: string,
  words: readonly (readonly [string, string])[],
  chosen: readonly string[],
): OptionView[] {
  return words.map(([value, label], i) => ({
    id: i === 0 ? controlId(name) : `${controlId(name)}-${value === '' ? 'none' : controlId(value).slice(2)}`,
    value,
    label,
    chosen: value === '' ? chosen.length === 0 : chosen.includes(value),
  }));
}

/** A group of radios with "don't know" as its standing choice, or of checkboxes when several values are in force. */
export function viewChoice(
  name: string,
  legend: string,
  hint: string,
  words: Readonly<Record<string, string>>,
  chosen: readonly string[],
  error: string,
  several = chosen.length > 1,
): ChoiceView {
  const entries = Object.entries(words);
  return {
    name,
    id: controlId(name),
    legend,
    hint,
    kind: several ? 'checkbox' : 'radio',
    error,
    options: viewOptions(name, several ? entries : [['', say('bench.dont-know')], ...entries], chosen),
  };
}

import { IntlMessageFormat } from 'intl-messageformat';

type Element = ReturnType<IntlMessageFormat['getAst']>[number];

/**
 * A message of the language for tests: bracketed, vowels doubled (about a third longer), placeholders untouched. A
 * text on a page without brackets has not come from a catalogue.
 */
export function pseudoMessage(message: string): Element[] {
  const elements = new IntlMessageFormat(message, 'en').getAst();
  return [literal('['), ...elements.map(lengthen), literal(']')];
}

/** A text of the language for tests that is no message. */
export const pseudoText = (text: string): string => `[${text.replace(/[aeiou]/g, '$&$&')}]`;

const literal = (value: string): Element => ({ type: 0, value }) as Element;

function lengthen(element: Element): Element {
  if (element.type === 0) return { ...element, value: element.value.replace(/[aeiou]/g, '$&$&') };
  if ('options' in element)
    return {
      ...element,
      options: Object.fromEntries(
        Object.entries(element.options).map(([name, option]) => [
          name,
          { ...option, value: option.value.map(lengthen) },
        ]),
      ),
    } as Element;
  return element;
}

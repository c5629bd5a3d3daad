/**
 * A text that a language lacks stands in English. It is put between two marks (private-use characters), so that it
 * can pass through sentences like any other text and still be told apart: pages turn the marks into
 * `<span lang="en">`, everything else drops them.
 */

const START = '\uE000';
const END = '\uE001';

/** Marks a text as English in a page of another language. */
export const markForeign = (text: string): string => (text === '' ? '' : `${START}${unmark(text)}${END}`);

/** The text without marks. */
export const unmark = (text: string): string => text.replace(/[\uE000\uE001]/g, '');

/** Does something to a text without marks; a text that begins as English is marked as such afterwards. */
export const foreignAs = (text: string, work: (plain: string) => string): string =>
  text.startsWith(START) ? markForeign(work(unmark(text))) : work(unmark(text));

/** Elements that hold text alone: a span in them would be shown as it is written. */
const TEXT_ONLY = /^<(title|textarea|option|script|style|svg)\b/i;

/**
 * Turns marks in finished HTML into spans; drops them inside tags and inside elements that hold text alone. A mark
 * without its partner, as after a text was cut short, ends with the text it stands in.
 */
export function foreignSpans(html: string): string {
  if (!html.includes(START) && !html.includes(END)) return html;
  let textOnly = '';
  return html
    .split(/(<[^>]*>)/)
    .map((piece) => {
      if (piece.startsWith('<')) {
        if (textOnly === '') textOnly = TEXT_ONLY.exec(piece)?.[1]?.toLowerCase() ?? '';
        else if (piece.toLowerCase().startsWith(`</${textOnly}`)) textOnly = '';
        return unmark(piece);
      }
      return textOnly === '' ? spans(piece) : unmark(piece);
    })
    .join('');
}

function spans(text: string): string {
  if (!text.includes(START)) return unmark(text);
  let open = false;
  const out = text.replace(/[\uE000\uE001]/g, (mark) => {
    if (mark === START) {
      if (open) return '';
      open = true;
      return '<span lang="en" dir="ltr">';
    }
    if (!open) return '';
    open = false;
    return '</span>';
  });
  return open ? `${out}</span>` : out;
}

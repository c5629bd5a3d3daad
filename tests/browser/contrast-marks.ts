import type { Page } from 'playwright-core';

/** Names the elements whose contrast is to be measured. */
export const CONTRAST_MARK = 'data-measure-contrast';

/**
 * Marks the elements whose contrast is to be measured: of those that look the same the first and the last, of all
 * others each. Two look the same when their text has the same colour, size and weight, and everything that they lie in
 * has the same colours: then the ratio is the same too. Measuring one takes a hundred times as long as telling that.
 *
 * Each is measured by itself where what lies behind it need not be what it lies in: what is drawn (SVG), put out of the
 * flow, shifted or turned. What is switched off counts as another look, since its contrast is not asked for.
 */
export async function markContrast(page: Page): Promise<void> {
  await page.evaluate((mark) => {
    for (const old of document.querySelectorAll(`[${mark}]`)) old.removeAttribute(mark);
    /** The look of an element with all it lies in, as a number; undefined: measured by itself. */
    const looks = new Map<Element, number | undefined>();
    const numbers = new Map<string, number>();
    const OWN = [
      'color',
      'backgroundColor',
      'backgroundImage',
      'opacity',
      'fontSize',
      'fontWeight',
      'textShadow',
      'mixBlendMode',
    ] as const;
    const lookOf = (element: Element): number | undefined => {
      if (looks.has(element)) return looks.get(element);
      const around = element.parentElement === null ? 0 : lookOf(element.parentElement);
      const style = getComputedStyle(element);
      const inPlace =
        !(element instanceof SVGElement) &&
        (style.position === 'static' ||
          (style.position === 'relative' && style.top === '0px' && style.left === '0px') ||
          (style.position === 'relative' && style.inset === 'auto')) &&
        style.transform === 'none' &&
        !style.margin.includes('-');
      let look: number | undefined;
      if (around !== undefined && inPlace) {
        const off = element.matches(':disabled, [aria-disabled=true], [inert]');
        const control = element instanceof HTMLLabelElement && element.control?.matches(':disabled') === true;
        const before = getComputedStyle(element, '::before').content;
        const after = getComputedStyle(element, '::after').content;
        const words = [around, off, control, before, after, ...OWN.map((name) => style[name])].join('|');
        look = numbers.get(words) ?? numbers.size + 1;
        numbers.set(words, look);
      }
      looks.set(element, look);
      return look;
    };
    const ends = new Map<string, { first: Element; last: Element }>();
    for (const element of document.body.querySelectorAll('*')) {
      const text = [...element.childNodes]
        .filter((node) => node.nodeType === Node.TEXT_NODE)
        .map((node) => node.textContent?.trim() ?? '')
        .join('');
      const field = element.matches('input, select, textarea');
      if ((text === '' && !field) || !element.checkVisibility({ visibilityProperty: true })) continue;
      const look = lookOf(element);
      if (look === undefined) element.setAttribute(mark, '');
      else {
        // A single sign is left to people; it must not stand for words.
        const key = `${look} ${field} ${text.length > 1}`;
        ends.set(key, { first: ends.get(key)?.first ?? element, last: element });
      }
    }
    for (const { first, last } of ends.values())
      for (const element of [first, last]) element.setAttribute(mark, '');
  }, CONTRAST_MARK);
}

import { element, type Picture } from './svg.js';

/** Bars by their width, of which there are a thousand. */
const drawn = new Map<string, Picture>();

/** A bar of a probability (0–1), with the turns of a yarn in it; decoration beside the figure and the words. */
export function drawBar(probability: number): Picture {
  const share = probability === 0 ? 0 : Math.max(0.006, Math.min(1, probability));
  const width = `${(share * 100).toFixed(1)}%`;
  let bar = drawn.get(width);
  if (bar === undefined) {
    bar = draw(width);
    drawn.set(width, bar);
  }
  return bar;
}

function draw(width: string): Picture {
  return element(
    'svg',
    { class: 'bar', width: '100%', height: 12, 'aria-hidden': 'true', focusable: 'false' },
    element('rect', { class: 'bar-track', width: '100%', height: 12, rx: 6 }),
    element('rect', { class: 'bar-fill', width, height: 12, rx: 6 }),
    element('rect', { fill: 'url(#twist)', width, height: 12, rx: 6 }),
  );
}

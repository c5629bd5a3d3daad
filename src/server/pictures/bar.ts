import { element, type Picture } from './svg.js';

/** A bar of a probability (0–1), with the turns of a yarn in it; decoration beside the figure and the words. */
export function drawBar(probability: number): Picture {
  const share = probability === 0 ? 0 : Math.max(0.006, Math.min(1, probability));
  return element(
    'svg',
    { class: 'bar', width: '100%', height: 12, 'aria-hidden': 'true', focusable: 'false' },
    element('rect', { class: 'bar-track', width: '100%', height: 12, rx: 6 }),
    element('rect', { class: 'bar-fill', width: `${(share * 100).toFixed(1)}%`, height: 12, rx: 6 }),
    element('rect', { fill: 'url(#twist)', width: `${(share * 100).toFixed(1)}%`, height: 12, rx: 6 }),
  );
}

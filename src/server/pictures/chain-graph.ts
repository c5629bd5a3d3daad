import { say } from '../../language/say.js';
import type { Chain, ChainStep } from '../../rules/index.js';
import { sayPercent } from '../words.js';
import { layOut } from './graph-layout.js';
import { graphSheet, LINE, linkLine, nodeBox } from './graph-parts.js';
import { element, type Picture, wrapText } from './svg.js';

const NODE_WIDTH = 148;
const ARROW = 'arrow';
const LETTERS = 20;

/**
 * Draws the chains of a cause as one graph, from settings above through mechanisms to what was seen below. The
 * stronger a link, the heavier its line; the list beside it says the same in words.
 */
export function drawChains(title: string, chains: readonly Chain[]): Picture {
  const steps = new Map<string, ChainStep>();
  const links = new Map<string, { from: string; to: string; value: number; name: string }>();
  for (const chain of chains)
    chain.steps.forEach((step, i) => {
      if (!steps.has(step.node)) steps.set(step.node, step);
      const from = chain.steps[i - 1];
      if (from === undefined) return;
      links.set(`${from.node}>${step.node}`, {
        from: from.node,
        to: step.node,
        value: step.link?.value ?? 0.5,
        name: step.link?.strength === undefined ? '' : say(`strength.${step.link.strength}`),
      });
    });

  const texts = new Map(
    [...steps].map(([node, step]) => [node, [...wrapText(step.label, LETTERS, 4), ...chance(step)]]),
  );
  const nodes = [...texts].map(([id, lines]) => ({
    id,
    width: NODE_WIDTH,
    height: lines.length * LINE + 14,
  }));
  const graph = layOut({
    settings: { rankdir: 'TB', nodesep: 14, ranksep: 40, marginx: 4, marginy: 4 },
    nodes,
    links: [...links.values()].map(({ from, to }) => ({ from, to, label: {} })),
  });
  const lines = [...links.values()].map((link) => {
    const { points } = graph.link(link.from, link.to);
    const middle = points[Math.floor(points.length / 2)];
    return element(
      'g',
      {},
      linkLine(points, link.value, ARROW),
      middle === undefined || link.name === ''
        ? undefined
        : element('text', { class: 'link-name', x: middle.x + 6, y: middle.y + 4 }, link.name),
    );
  });
  const boxes = nodes.map(({ id, ...size }) =>
    nodeBox(steps.get(id)?.kind ?? '', { ...graph.node(id), ...size }, texts.get(id) ?? []),
  );
  const description = say('cause.chain-text');
  const size = { width: Math.ceil(graph.width), height: Math.ceil(graph.height) };
  return graphSheet({ title, description, ...size, arrow: ARROW }, [...lines, ...boxes]);
}

/** The probability of a node, where it is not certain. */
function chance(step: ChainStep): string[] {
  if (step.kind === 'setting' || step.probability >= 0.9995) return [];
  return [sayPercent(step.probability)];
}

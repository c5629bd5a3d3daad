import { say } from '../../language/say.js';
import { layOut } from './graph-layout.js';
import { graphSheet, LINE, linkLine, nodeBox } from './graph-parts.js';
import { element, type Picture, wrapText } from './svg.js';

export interface DrawnNode {
  readonly kind: 'setting' | 'cause' | 'mechanism' | 'symptom' | 'finding' | 'action';
  readonly label: string;
}
export interface DrawnLink {
  readonly from: string;
  readonly to: string;
  /** 0–1, drawn as the weight of the line. */
  readonly value: number;
  readonly label: string;
}

const NODE_WIDTH = 156;
const LETTERS = 22;
/** Room for a label's letter, and what a line of labels is high. */
const LETTER = 5.9;
const LABEL_HEIGHT = 15;

/**
 * Draws statements of the knowledge base as a graph from left to right: what leads to a thing left of it, what it
 * leads to right of it. Lists beside the picture say the same in words.
 *
 * @param focus id of the node the page is about
 * @param nodes every node that a link names
 */
export function drawLinks(
  title: string,
  focus: string,
  nodes: ReadonlyMap<string, DrawnNode>,
  links: readonly DrawnLink[],
): Picture {
  // A page may hold several of these pictures.
  const arrow = `link-end-${focus.replace(/[^a-z0-9-]/g, '-')}`;
  const texts = new Map([...nodes].map(([id, node]) => [id, wrapText(node.label, LETTERS, 4)]));
  const sizes = [...texts].map(([id, lines]) => ({
    id,
    width: NODE_WIDTH,
    height: lines.length * LINE + 14,
  }));
  const graph = layOut({
    settings: { rankdir: 'LR', nodesep: 12, ranksep: 26, edgesep: 6, marginx: 4, marginy: 4 },
    nodes: sizes,
    links: links.map(({ from, to, label }) => ({
      from,
      to,
      label: { width: label.length * LETTER + 10, height: LABEL_HEIGHT, labelpos: 'c' },
    })),
  });

  const lines = links.map(({ from, to, value }) => linkLine(graph.link(from, to).points, value, arrow));
  // Above the lines, so that no line runs through a figure.
  const labels = links.map((link) => {
    const { x, y } = graph.link(link.from, link.to);
    const room = link.label.length * LETTER + 6;
    return element(
      'g',
      {},
      element('rect', { class: 'link-ground', x: x - room / 2, y: y - 8, width: room, height: 16 }),
      element('text', { class: 'link-name', x, y: y + 4, 'text-anchor': 'middle' }, link.label),
    );
  });
  const boxes = sizes.map(({ id, ...size }) =>
    nodeBox(
      nodes.get(id)?.kind ?? '',
      { ...graph.node(id), ...size },
      texts.get(id) ?? [],
      id === focus ? ' focus' : '',
    ),
  );
  const size = { width: Math.ceil(graph.width), height: Math.ceil(graph.height) };
  return graphSheet({ title, description: say('entry.picture-description'), ...size, arrow }, [
    ...lines,
    ...labels,
    ...boxes,
  ]);
}

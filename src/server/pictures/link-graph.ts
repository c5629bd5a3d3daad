import { Graph, layout } from '@dagrejs/dagre';
import { say } from '../../language/say.js';
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
  const graph = new Graph();
  graph.setGraph({ rankdir: 'LR', nodesep: 12, ranksep: 26, edgesep: 6, marginx: 4, marginy: 4 });
  graph.setDefaultEdgeLabel(() => ({}));
  const texts = new Map<string, string[]>();
  for (const [id, node] of nodes) {
    const lines = wrapText(node.label, LETTERS, 4);
    texts.set(id, lines);
    graph.setNode(id, { width: NODE_WIDTH, height: lines.length * LINE + 14 });
  }
  for (const link of links)
    graph.setEdge(link.from, link.to, {
      width: link.label.length * LETTER + 10,
      height: LABEL_HEIGHT,
      labelpos: 'c',
    });
  layout(graph);

  const size = graph.graph();
  const width = Math.ceil(size.width ?? NODE_WIDTH);
  const height = Math.ceil(size.height ?? LINE);
  const lines = links.map((link) => {
    const edge = graph.edge(link.from, link.to);
    const points: readonly { x: number; y: number }[] = edge.points ?? [];
    return linkLine(points, link.value, arrow);
  });
  // Above the lines, so that no line runs through a figure.
  const labels = links.map((link) => {
    const { x = 0, y = 0 } = graph.edge(link.from, link.to);
    const room = link.label.length * LETTER + 6;
    return element(
      'g',
      {},
      element('rect', { class: 'link-ground', x: x - room / 2, y: y - 8, width: room, height: 16 }),
      element('text', { class: 'link-name', x, y: y + 4, 'text-anchor': 'middle' }, link.label),
    );
  });
  const boxes = [...nodes].map(([id, node]) => {
    const { x = 0, y = 0, height: h = 0 } = graph.node(id);
    return nodeBox(
      node.kind,
      { x, y, width: NODE_WIDTH, height: h },
      texts.get(id) ?? [],
      id === focus ? ' focus' : '',
    );
  });
  return graphSheet({ title, description: say('entry.picture-description'), width, height, arrow }, [
    ...lines,
    ...labels,
    ...boxes,
  ]);
}

import { type EdgeLabel, Graph, type GraphLabel, layout } from '@dagrejs/dagre';
import { keepRecent } from '../../rules/keep-recent.js';

/** A graph to be laid out: sizes in the units of the picture. */
export interface GraphToLayOut {
  readonly settings: Readonly<GraphLabel>;
  readonly nodes: readonly { readonly id: string; readonly width: number; readonly height: number }[];
  readonly links: readonly {
    readonly from: string;
    readonly to: string;
    readonly label: Readonly<EdgeLabel>;
  }[];
}

export interface LaidOut {
  readonly width: number;
  readonly height: number;
  /** The middle of a node. */
  node(id: string): { readonly x: number; readonly y: number };
  /** The points that a link runs through, and the middle of its label. */
  link(
    from: string,
    to: string,
  ): {
    readonly points: readonly { readonly x: number; readonly y: number }[];
    readonly x: number;
    readonly y: number;
  };
}

/** About what the pages of all causes need in two languages. */
const MOST = 300;
const kept = keepRecent<string, LaidOut>(MOST);

/**
 * Where nodes and links lie. To lay a graph out takes longer than the rest of its page, and the same graph comes out the
 * same: the last ones are kept.
 */
export function layOut(graph: GraphToLayOut): LaidOut {
  const key = JSON.stringify(graph);
  const known = kept.get(key);
  if (known !== undefined) return known;
  const laidOut = work(graph);
  kept.set(key, laidOut);
  return laidOut;
}

function work({ settings, nodes, links }: GraphToLayOut): LaidOut {
  const graph = new Graph();
  graph.setGraph({ ...settings });
  for (const { id, width, height } of nodes) graph.setNode(id, { width, height });
  for (const { from, to, label } of links) graph.setEdge(from, to, { ...label });
  layout(graph);
  // Only the places are kept: the graph itself is many times as large.
  const middles = new Map(
    nodes.map(({ id }) => [id, { x: graph.node(id).x ?? 0, y: graph.node(id).y ?? 0 }]),
  );
  const lines = new Map(
    links.map(({ from, to }) => {
      const { points = [], x = 0, y = 0 } = graph.edge(from, to);
      return [
        lineKey(from, to),
        { points: points.map((point: { x: number; y: number }) => ({ x: point.x, y: point.y })), x, y },
      ];
    }),
  );
  const { width = 0, height = 0 } = graph.graph();
  return {
    width,
    height,
    node: (id) => middles.get(id) ?? { x: 0, y: 0 },
    link: (from, to) => lines.get(lineKey(from, to)) ?? { points: [], x: 0, y: 0 },
  };
}

const lineKey = (from: string, to: string) => `${from}\n${to}`;

import type { CausalGraph } from '../diagnosis/causal-graph.js';
import type { Signed } from './sign-responses.js';
import type { SettingEnd, SignSetting } from './sign-settings.js';

/** What the graph says of a response when a setting moves. */
export interface GraphSign {
  readonly sign: -1 | 0 | 1;
  /** Mean change of the probabilities of the response's nodes. */
  readonly change: number;
  /** Both being too low and being too high move the response the same way, so there is a best setting between. */
  readonly optimum: boolean;
  /** They do so by amounts too alike to give the whole move a direction. */
  readonly bothWays: boolean;
}

/** Changes of probability below this are no statement. */
const LEAST_CHANGE = 0.02;
/** The weaker side counts as nothing when it is below this share of the stronger. */
const ONE_SIDED = 1 / 3;

/** Probability of a node with causes put in from outside. */
export type Intervention = (causes: readonly string[], node: string) => number;

/** Exact probabilities under intervention, each worked out once. */
export function interventions(graph: CausalGraph): Intervention {
  const known = new Map<string, number>();
  return (causes, node) => {
    const key = `${causes.join('+')}>${node}`;
    let p = known.get(key);
    if (p === undefined) {
      const put = new Map(causes.filter((id) => graph.kinds.get(id) === 'cause').map((id) => [id, true]));
      const posterior = graph.network.query(new Map(), { do: put, targets: [node], beyondLimit: 'sample' });
      const grades = posterior.grades.get(node);
      p = grades === undefined ? posterior.probability(node) : 1 - grades[0];
      known.set(key, p);
    }
    return p;
  };
}

/** Sign of a response when a setting moves from one end to the other, by its causes of being too low and too high. */
export function graphSign(
  nodes: readonly Signed<string>[],
  setting: Pick<SignSetting, 'low' | 'high'>,
  from: SettingEnd,
  to: SettingEnd,
  probability: Intervention,
): GraphSign {
  const rise = (level: number) => {
    const causes = level < 0 ? setting.low : level > 0 ? setting.high : [];
    if (causes.length === 0) return 0;
    const rises = nodes.map(
      ([node, direction]) => direction * (probability(causes, node) - probability([], node)),
    );
    return rises.reduce((sum, one) => sum + one, 0) / Math.max(1, nodes.length);
  };
  const before = rise(from.level);
  const after = rise(to.level);
  const change = after - before;
  const weaker = Math.min(Math.abs(before), Math.abs(after));
  const stronger = Math.max(Math.abs(before), Math.abs(after));
  const optimum = before * after > 0 && weaker >= LEAST_CHANGE;
  const bothWays = optimum && weaker > ONE_SIDED * stronger;
  return {
    sign: Math.abs(change) < LEAST_CHANGE || bothWays ? 0 : change > 0 ? 1 : -1,
    change,
    optimum,
    bothWays,
  };
}

import type { Inference } from './infer.js';
import type { Reasoner } from './prepare.js';

/** A symptom that shows, with how much it counts and how often it shows without any listed cause. */
export interface Sign {
  readonly symptom: string;
  /** 2 for a marked or measured one, 1 for a slight one. */
  readonly weight: number;
  readonly leak: number;
}

/** The symptoms that are seen or measured to be there: what the complaint consists of. */
export function signsSeen({ graph, knowledge }: Reasoner, inference: Inference): Sign[] {
  return inference.items.flatMap((item) =>
    item.nodes.flatMap(([node, state]): Sign[] => {
      if (graph.kinds.get(node) !== 'symptom') return [];
      const measured = Array.isArray(state) && Math.max(...state) > 1;
      const weight = state === 'marked' || measured ? 2 : state === 'slight' ? 1 : 0;
      return weight === 0
        ? []
        : [{ symptom: node, weight, leak: knowledge.book.symptoms.get(node)?.leak ?? 0.03 }];
    }),
  );
}

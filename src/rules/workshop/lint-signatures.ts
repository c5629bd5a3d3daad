import type { CausalGraph } from '../diagnosis/causal-graph.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import { WEIGHTS } from '../knowledge/vocabulary.js';
import type { Draft } from './finding.js';
import { bestSeparation, type Signature, signaturesOf } from './signature.js';

/** Two causes are told apart when some observation is this many times likelier under the one. */
const TELLS_APART = WEIGHTS.slightly;
/** A check outcome tells when the cause brings it about at least so often … */
const OFTEN_SEEN = 0.1;

/** Pairs of causes that nothing tells apart, and causes none of whose checks points at them. */
export function lintSignatures(book: RuleBook, graph: CausalGraph): Draft[] {
  const signatures = signaturesOf(book, graph);
  return [...lintLikePairs(signatures), ...lintChecks(book, signatures)];
}

function lintLikePairs(signatures: ReadonlyMap<string, Signature>): Draft[] {
  const ids = [...signatures.keys()];
  return ids.flatMap((a, i) =>
    ids.slice(i + 1).flatMap((b): Draft[] => {
      const best = bestSeparation(a, b, signatures);
      if (best !== undefined && best.ratio >= TELLS_APART) return [];
      const tells =
        best === undefined
          ? 'nothing separates them'
          : `the best is “${best.observation}”, ${best.ratio.toFixed(1)} times likelier under "${best.favours}"`;
      return [
        {
          code: 'not-told-apart',
          file: `causes/${a}.yaml`,
          path: [],
          message: `no observation tells "${a}" from "${b}" apart: ${tells}`,
          hint: 'Add the look or test that a spinner would tell them apart by, or make them one cause.',
        },
      ];
    }),
  );
}

function lintChecks(book: RuleBook, signatures: ReadonlyMap<string, Signature>): Draft[] {
  const total = [...book.causes.values()].reduce((sum, cause) => sum + cause.prior.base, 0);
  const average = (node: string) =>
    [...book.causes.values()].reduce(
      (sum, cause) => sum + cause.prior.base * (signatures.get(cause.id)?.seen.get(node) ?? 0),
      0,
    ) / total;
  return [...book.causes.values()].flatMap((cause): Draft[] => {
    // A part is proved by trying another, a wrong setting by reading the frame's card, chance by counting on.
    if (cause.part !== undefined || cause.kind === 'coordination' || cause.family === 'chance') return [];
    const tells = cause.checks.some((id) =>
      Object.keys(book.checks.get(id)?.outcomes ?? {}).some((outcome) => {
        const node = `${id}:${outcome}`;
        const p = signatures.get(cause.id)?.seen.get(node);
        return p !== undefined && p >= OFTEN_SEEN && p >= TELLS_APART * average(node);
      }),
    );
    return tells
      ? []
      : [
          {
            code: 'no-distinguishing-check',
            file: `causes/${cause.id}.yaml`,
            path: ['checks'],
            message: `no check of "${cause.id}" has an outcome that is at least ${TELLS_APART} times likelier with it than otherwise`,
            hint: 'Link a finding from the cause and list its check.',
          },
        ];
  });
}

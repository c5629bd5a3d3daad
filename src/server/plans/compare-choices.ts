import { say } from '../../language/say.js';
import { resolveSetup } from '../../rules/case/resolve-setup.js';
import type { CaseInput } from '../../rules/case/types.js';
import type { PlanReport } from '../../rules/plans/types.js';
import { changeCase } from '../../rules/plans/what-if.js';
import type { Site } from '../site.js';

/** A setup that can be held against others. */
export interface CompareChoice {
  readonly id: string;
  readonly label: string;
  case(): Promise<CaseInput>;
}

/** What there is to compare: the case in hand, its plan, the usual setup for its yarn, and the mill's frames. */
export function compareChoices(
  site: Site,
  input: CaseInput,
  hasSetup: boolean,
  plan: () => Promise<PlanReport>,
): CompareChoice[] {
  const { knowledge } = site;
  const usual = () =>
    resolveSetup(input.given, { endUses: knowledge.endUses, fibres: knowledge.parameters.fibres }).usual;
  return [
    ...(hasSetup
      ? [
          { id: 'this', label: say('compare.in-hand'), case: async () => input },
          {
            id: 'planned',
            label: say('compare.of-plan'),
            case: async () => {
              const { before, after } = await plan();
              const changes = Object.fromEntries(
                Object.entries(after).filter(([key, value]) => value !== before[key as keyof typeof before]),
              );
              return changeCase(input, changes);
            },
          },
          {
            id: 'usual',
            label: say('compare.usual'),
            case: async () => changeCase(input, usual()),
          },
        ]
      : []),
    ...[...site.mill.values()].map((frame) => ({
      id: frame.id,
      label: `${frame.name}: ${frame.yarn}`,
      case: async () => frame.card,
    })),
  ];
}

import { say } from '../../language/say.js';
import { PLAN_SETTINGS, type PlanSetting } from '../../rules/knowledge/plan-schema.js';
import { readStock } from '../../rules/plans/read-stock.js';
import { PLAN_LIMITS, type PlanLimit, type Stock } from '../../rules/plans/types.js';

/** What is asked of a plan beside the case: limits, settings that may move, parts on the shelf, positions. */
export interface PlanQuery {
  readonly limits: readonly PlanLimit[];
  /** Settings that must stay; kept in the address, since most may move. */
  readonly fixed: readonly PlanSetting[];
  /** The text of the shelf as it was typed. */
  readonly shelf: string;
  readonly stock: Stock | undefined;
  /** Why the shelf cannot be read. */
  readonly shelfProblems: readonly string[];
  readonly positions: number | undefined;
  readonly positionsText: string;
  readonly positionsProblem: string;
}

const MOST_SHELF = 4000;

/** Reads what is asked from an address; what cannot be read is said and left out. */
export function readPlanQuery(params: URLSearchParams): PlanQuery {
  const shelf = (params.get('shelf') ?? '').slice(0, MOST_SHELF).trim();
  const stock = shelf === '' ? undefined : readStock(shelf);
  const positionsText = (params.get('positions') ?? '').trim().slice(0, 20);
  const positions = /^\d{1,4}$/.test(positionsText) ? Number(positionsText) : Number.NaN;
  const fine = positions >= 1 && positions <= 5000;
  return {
    limits: PLAN_LIMITS.filter((limit) => params.getAll('limit').includes(limit)),
    fixed: PLAN_SETTINGS.filter((setting) => params.getAll('fixed').includes(setting)),
    shelf,
    stock: stock?.ok === true ? stock.stock : undefined,
    shelfProblems:
      stock === undefined || stock.ok
        ? []
        : stock.problems.map((one) =>
            [
              ...(one.line === undefined ? [] : [say('plan.shelf-line', { n: one.line })]),
              ...(one.field === '' ? [] : [one.field]),
              one.message,
              say('plan.shelf-allowed', { what: one.allowed.slice(0, 8).join(', ') }),
            ].join(' '),
          ),
    positions: fine ? positions : undefined,
    positionsText,
    positionsProblem: positionsText === '' || fine ? '' : say('plan.positions-wrong'),
  };
}

/** The query as parameters, for links that keep it. */
export function planParams(query: PlanQuery): [string, string][] {
  return [
    ...query.limits.map((limit): [string, string] => ['limit', limit]),
    ...query.fixed.map((setting): [string, string] => ['fixed', setting]),
    ...(query.shelf === '' ? [] : [['shelf', query.shelf] as [string, string]]),
    ...(query.positionsText === '' ? [] : [['positions', query.positionsText] as [string, string]]),
  ];
}

/** An address with the case's query, the plan's and more parameters. */
export function withParams(
  path: string,
  caseQuery: string,
  more: readonly (readonly [string, string])[],
): string {
  const params = new URLSearchParams(caseQuery);
  for (const [name, value] of more) params.append(name, value);
  const text = params.toString();
  return text === '' ? path : `${path}?${text}`;
}

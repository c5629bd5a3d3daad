import type { QuantityField } from '../../spinning/state.js';

/** A node or computed quantity, and whether it rises (1) or falls (-1) when the response rises. */
export type Signed<T> = readonly [T, 1 | -1];

/** How a response of a published record is brought into the product. */
export interface SignResponse {
  /** Quantities of the spinning model, the first that the setting moves is taken. */
  readonly model?: readonly Signed<QuantityField>[];
  /** Symptoms and mechanism states; the mean of their changes is taken. */
  readonly graph?: readonly Signed<string>[];
  /** Found by search: the least twist at which the setup runs, or the rotor speed at which that is lowest. */
  readonly search?: 'least-twist' | 'speed-of-least-twist';
  /** A verdict over several things: said only when all that move agree. */
  readonly verdict?: true;
}

const up = <T>(...names: T[]): Signed<T>[] => names.map((name) => [name, 1]);
const down = <T>(...names: T[]): Signed<T>[] => names.map((name) => [name, -1]);

/** Signs of a poor yarn. */
const POOR_YARN = [
  'cvm',
  'thin',
  'thick',
  'neps',
  'hairy',
  'low-tenacity',
  'low-elongation',
  'weak-places',
] as const;

/** The responses of published records, by the record's word for them. */
const RESPONSES: Readonly<Record<string, SignResponse>> = {
  spinning_tension: { model: up<QuantityField>('takeUpTensionCnPerTex') },
  tenacity: { model: up<QuantityField>('yarnTenacityCnPerTex'), graph: down('low-tenacity') },
  hairiness: { model: up<QuantityField>('hairinessIndex'), graph: up('hairy') },
  false_twist: { model: up<QuantityField>('falseTwistPct'), graph: up('false-twist:high') },
  wrapper_fibres: { model: up<QuantityField>('wrapperSharePct'), graph: up('wrappers:many') },
  end_breaks: {
    model: down<QuantityField>('stabilityMargin', 'fibresMargin'),
    graph: up('end-breaks'),
  },
  spinning_stability: {
    model: up<QuantityField>('stabilityMargin', 'fibresMargin'),
    graph: down('end-breaks'),
  },
  minimum_twist: { search: 'least-twist' },
  optimum_rotor_speed_for_minimum_twist: { search: 'speed-of-least-twist' },
  production_rate: { model: up<QuantityField>('outputGPerRotorH') },
  fly_lint: { model: up<QuantityField>('flyIndex'), graph: up('fly-machine', 'fly-downstream') },
  hand_softness: { model: up<QuantityField>('softnessIndex'), graph: down('harsh') },
  bulk: { graph: down('lean') },
  cvm: { model: up<QuantityField>('limitCvPct'), graph: up('cvm') },
  imperfections: { graph: up('thin', 'thick', 'neps') },
  neps: { graph: up('neps') },
  thick_places: { graph: up('thick') },
  thin_places: { graph: up('thin') },
  elongation: { graph: down('low-elongation') },
  snarling: { graph: up('snarl', 'spirality') },
  heat_damage: { model: up<QuantityField>('yarnHeatingK'), graph: up('melt') },
  nozzle_wear: { model: down<QuantityField>('nozzleLifeH'), graph: up('part-wear') },
  rotor_deposits: { model: up<QuantityField>('grooveDirtUgPerCmMin'), graph: up('rotor-dirt') },
  fabric_barre: { graph: up('barre') },
  bending_rigidity: { graph: up('bending-stiffness:high') },
  fibre_breakage: { graph: up('fibre-breakage:high') },
  yarn_quality_overall: {
    model: [...up<QuantityField>('yarnTenacityCnPerTex'), ...down<QuantityField>('hairinessIndex')],
    graph: down(...POOR_YARN),
    verdict: true,
  },
};

/**
 * The product's reading of a record's response. Tension is taken per tex, as the model and most writings have it, but
 * as a force where the count itself is changed.
 *
 * @returns undefined when the product computes nothing of the kind
 */
export function signResponse(response: string, setting: string): SignResponse | undefined {
  if (response === 'spinning_tension' && setting === 'yarn_count')
    return { model: up<QuantityField>('armTensionCn') };
  return Object.hasOwn(RESPONSES, response) ? RESPONSES[response] : undefined;
}

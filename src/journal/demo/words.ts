/** People, customers and sentences of the invented mill. No real person or firm is meant. */

export const PEOPLE = [
  'Asha, shift A',
  'Bruno, shift B',
  'Chen, shift C',
  'Dalia, technologist',
  'Emil, workshop',
] as const;

/** What is made of a yarn, as far as complaints differ. */
export type Fabric = 'knitted' | 'woven' | 'denim' | 'towel';

/** Those who buy a yarn, by what they make of it. */
export const CUSTOMERS: Readonly<Record<Fabric, readonly string[]>> = {
  knitted: ['Knitter A', 'Knitter F'],
  woven: ['Weaver B', 'Fabric maker E'],
  denim: ['Denim weaver D'],
  towel: ['Towel weaver C'],
};

/** Faults of a fabric, for knitted goods and for woven ones, in the trade's words. */
interface FabricFaults {
  readonly knitted: readonly string[];
  readonly woven: readonly string[];
}

/** Fabric faults of single causes whose sign is not that of their family. */
const FAULTS_OF_CAUSES: Readonly<Record<string, FabricFaults>> = {
  'twist-too-high': {
    knitted: ['jersey spirals after washing', 'harsh hand, fabric feels dry'],
    woven: ['snarls in the fabric', 'harsh hand, fabric feels dry'],
  },
  'twist-too-low': {
    knitted: ['holes at knitting, weak yarn', 'fabric pills after one wash'],
    woven: ['low tear strength', 'warp breaks in weaving'],
  },
  'dyeing-or-knitting-barre': {
    knitted: ['barré that stops at the machine'],
    woven: ['shade bands that go with the dye lot'],
  },
  'humidity-high': { knitted: ['soiled yarn in stripes'], woven: ['soiled yarn in stripes'] },
  'honeydew-sticky': {
    knitted: ['sticky specks in the yarn', 'thick and thin stretches'],
    woven: ['sticky specks in the yarn', 'thick and thin stretches'],
  },
};

const FAULTS_OF_FAMILIES: Readonly<Record<string, FabricFaults>> = {
  nozzle: {
    knitted: ['harsh hand, fabric feels dry', 'hairy fabric, pills after one wash'],
    woven: ['harsh hand, fabric feels dry', 'hairy yarn sticks together in the shed'],
  },
  'tube-and-insert': {
    knitted: ['barré in single jersey', 'stripes of a different lustre'],
    woven: ['stripes of a different lustre', 'weft bars'],
  },
  'twist-and-speed': {
    knitted: ['holes at knitting, weak yarn', 'uneven look'],
    woven: ['warp breaks in weaving', 'low tear strength'],
  },
  rotor: {
    knitted: ['barré with a short repeat', 'periodic thick places'],
    woven: ['moiré in the fabric', 'periodic thick places'],
  },
  opening: {
    knitted: ['neppy look after dyeing', 'slubs in the fabric'],
    woven: ['slubs in the fabric', 'neppy look after dyeing'],
  },
  'air-and-trash': {
    knitted: ['dark specks in the undyed fabric', 'fluff on the needles at knitting'],
    woven: ['dark specks in the undyed fabric', 'soiled yarn in stripes'],
  },
  'feed-and-sliver': {
    knitted: ['thick and thin stretches', 'uneven look'],
    woven: ['thick and thin stretches', 'bars of another count'],
  },
  'sliver-quality': {
    knitted: ['cloudy fabric', 'specks after dyeing'],
    woven: ['thick and thin stretches', 'specks after dyeing'],
  },
  fibre: {
    knitted: ['barré after dyeing', 'shade bands between packages'],
    woven: ['shade bands between packages', 'low tear strength'],
  },
  winding: {
    knitted: ['packages slough off at unwinding', 'holes at knitting, soft packages'],
    woven: ['packages slough off at unwinding', 'breaks at the warper, soft packages'],
  },
  'room-and-care': {
    knitted: ['fluff knitted in', 'soiled yarn in stripes'],
    woven: ['fluff woven in', 'soiled yarn in stripes'],
  },
  downstream: {
    knitted: ['barré that stops at the machine', 'holes at one feeder'],
    woven: ['bars that stop at the loom', 'breaks at one loom'],
  },
};

const OTHER_FAULTS: FabricFaults = {
  knitted: ['holes at knitting', 'uneven look'],
  woven: ['a few weak places in the warp', 'uneven look'],
};

/** What a customer may complain of when this was the cause. */
export function fabricFaults(
  cause: { readonly id: string; readonly family: string },
  fabric: Fabric,
): readonly string[] {
  const faults = FAULTS_OF_CAUSES[cause.id] ?? FAULTS_OF_FAMILIES[cause.family] ?? OTHER_FAULTS;
  return fabric === 'knitted' ? faults.knitted : faults.woven;
}

/** How the next delivery was proved. */
export const VERIFIED: Readonly<Record<Fabric, string>> = {
  knitted: 'Next delivery knitted and looked through by the customer.',
  woven: 'Next delivery woven and looked through by the customer.',
  denim: 'Next delivery woven, dyed and looked through by the customer.',
  towel: 'Next delivery woven, washed and looked through by the customer.',
};

/** What is made of a yarn by its end use. */
export function fabricOf(endUse: unknown): Fabric {
  if (endUse === 'knitting') return 'knitted';
  if (endUse === 'towel') return 'towel';
  return typeof endUse === 'string' && endUse.startsWith('denim') ? 'denim' : 'woven';
}

export const CONTAINMENT = [
  'Lot blocked in the store; the customer sorts out the pallets concerned against a credit for the work.',
  'Packages of the frame concerned held back, one cone of each position tested before release.',
  'Replacement of 400 kg sent from another lot; the rest is used where the fault does not show.',
] as const;

export const PREVENTIVE = [
  'The check is on the weekly round now, with a line on the frame card.',
  'Parts are counted out and back at each change, and the last position is looked at by a second person.',
  'A trial on eight positions precedes any such change from now on.',
] as const;

/** Fibre of lots, by what the card of the frame says it spins. */
const LOT_MATERIALS: readonly (readonly [RegExp, readonly string[]])[] = [
  [
    /recycl|waste/i,
    ['cotton, short staple, half of it recycled', 'cotton waste, tearing line and comber noil'],
  ],
  [/viscose/i, ['viscose 40 mm, bright', 'viscose 38 mm, dull']],
  [/cotton and polyester|half and half/i, ['cotton and polyester 38 mm, half and half']],
  [/polyester/i, ['polyester 38 mm, semi-dull', 'polyester 38 mm, dull']],
];

const COTTON = ['cotton, medium staple, 5 % waste', 'cotton, medium staple', 'cotton, short staple'] as const;

/** Fibre a lot of this yarn may be of. */
export const lotMaterials = (yarn: string): readonly string[] =>
  LOT_MATERIALS.find(([words]) => words.test(yarn))?.[1] ?? COTTON;

/** People, customers and sentences of the invented mill. No real person or firm is meant. */

export const PEOPLE = [
  'Asha, shift A',
  'Bruno, shift B',
  'Chen, shift C',
  'Dalia, technologist',
  'Emil, workshop',
] as const;

export const CUSTOMERS = [
  'Knitter A',
  'Weaver B',
  'Towel weaver C',
  'Denim weaver D',
  'Fabric maker E',
] as const;

/** Fabric faults by the family of the cause behind them, in the trade's words. */
export const FABRIC_FAULTS: Readonly<Record<string, readonly string[]>> = {
  nozzle: ['harsh hand, fabric feels dry', 'hairy fabric, pills after one wash', 'streaks along the wale'],
  'tube-and-insert': ['barré in single jersey', 'stripes of a different lustre'],
  'twist-and-speed': ['fabric spirals after washing', 'low tear strength in the weft'],
  rotor: ['moiré in the woven fabric', 'barré with a short repeat', 'periodic thick places'],
  opening: ['slubs in the weft', 'neppy look after dyeing'],
  'air-and-trash': ['dark specks in the undyed fabric', 'fluff on the needles at knitting'],
  'feed-and-sliver': ['weft bars', 'thick and thin stretches'],
  'sliver-quality': ['cloudy fabric', 'thick and thin stretches', 'specks after dyeing'],
  fibre: ['barré after dyeing', 'shade bands between packages'],
  winding: ['packages slough off at unwinding', 'breaks at the warper, soft packages'],
  'room-and-care': ['fluff knitted in', 'soiled yarn in stripes'],
  downstream: ['barré that stops at the machine'],
  chance: ['holes at knitting, a few'],
};

export const OTHER_FABRIC_FAULTS = ['holes at knitting', 'uneven look'] as const;

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

export const LOT_MATERIALS = [
  'cotton, medium staple, 5 % waste',
  'cotton, medium staple',
  'cotton, short staple, 20 % recycled',
  'polyester 38 mm, semi-dull',
  'cotton and polyester, half and half',
  'viscose 40 mm',
] as const;

/** Fibres by their ids. */
export const fibre = {
  cotton: 'cotton',
  polyester: 'polyester',
  viscose: 'viscose',
  acrylic: 'acrylic',
  polypropylene: 'polypropylene',
  wool: 'wool',
} as const;

export const fibre = {
  cotton: 'Baumwolle',
  polyester: 'Polyester',
  viscose: 'Viskose',
  acrylic: 'Acryl',
  polypropylene: 'Polypropylen',
  wool: 'Wolle',
} as const;

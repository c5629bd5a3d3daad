export const property = {
  tenacity: 'Festigkeit',
  'strength-cv': 'Streuung der Festigkeit (CV)',
  elongation: 'Höchstzugkraftdehnung',
  cvm: 'Ungleichmäßigkeit CVm',
  thin: 'Dünnstellen je km',
  thick: 'Dickstellen je km',
  neps: 'Nissen je km',
  hairiness: 'Haarigkeitsindex',
  count: 'Garnfeinheit',
  twist: 'Garndrehung',
} as const;

/** Measured properties. */
export const property = {
  tenacity: 'Tenacity',
  'strength-cv': 'Scatter of strength (CV)',
  elongation: 'Elongation at break',
  cvm: 'Unevenness CVm',
  thin: 'Thin places per km',
  thick: 'Thick places per km',
  neps: 'Neps per km',
  hairiness: 'Hairiness index',
  count: 'Yarn count',
  twist: 'Yarn twist',
} as const;

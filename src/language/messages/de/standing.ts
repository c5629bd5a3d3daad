export const standing = {
  physics: 'Physik',
  published: 'veröffentlicht',
  'common-practice': 'übliche Praxis',
  judgement: 'Schätzung',
  memory: 'aus dem Gedächtnis, ungeprüft',
} as const;

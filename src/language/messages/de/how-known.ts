export const howKnown = {
  'by-trial': 'durch einen Versuch nachgewiesen',
  'by-part': 'durch Teiletausch nachgewiesen',
  'by-look': 'beim Nachsehen gesehen',
  unconfirmed: 'vermutet, nicht nachgewiesen',
} as const;

const COLLATOR = new Intl.Collator('en', { numeric: true, sensitivity: 'base' });

/** Compares names so that position 9 comes before 10 and L2 before L10. */
export function compareNatural(a: string, b: string): number {
  return COLLATOR.compare(a, b) || (a < b ? -1 : a > b ? 1 : 0);
}

/** Raised when a statistical function is given a value it cannot work with; names the field, the value and what is allowed. */
export class StatisticsError extends Error {
  readonly field: string;
  readonly value: unknown;
  readonly allowed: string;

  constructor(field: string, value: unknown, allowed: string) {
    super(`${field}: ${describe(value)} is not usable; allowed: ${allowed}`);
    this.name = 'StatisticsError';
    this.field = field;
    this.value = value;
    this.allowed = allowed;
  }
}

function describe(value: unknown): string {
  if (typeof value === 'string') return `"${value}"`;
  if (Array.isArray(value)) return `a list of ${value.length}`;
  return String(value);
}

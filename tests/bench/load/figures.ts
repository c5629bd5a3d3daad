/** Times of one kind of request, milliseconds, errors apart. */
export interface Kind {
  readonly times: number[];
  bytes: number;
  errors: number;
}

/** Collects the times by kind. */
export class Figures {
  readonly kinds = new Map<string, Kind>();
  /** What went wrong, how often, and one address where it did. */
  readonly faults = new Map<string, { count: number; readonly example: string }>();

  of(name: string): Kind {
    const known = this.kinds.get(name);
    if (known !== undefined) return known;
    const kind: Kind = { times: [], bytes: 0, errors: 0 };
    this.kinds.set(name, kind);
    return kind;
  }

  done(name: string, ms: number, bytes: number): void {
    const kind = this.of(name);
    kind.times.push(ms);
    kind.bytes += bytes;
  }

  failed(name: string, why: string, path = ''): void {
    this.of(name).errors++;
    const text = `${name}: ${why}`;
    const known = this.faults.get(text);
    if (known === undefined) this.faults.set(text, { count: 1, example: path });
    else known.count++;
  }

  get all(): Kind {
    const kinds = [...this.kinds.values()];
    return {
      times: kinds.flatMap((kind) => kind.times),
      bytes: kinds.reduce((sum, kind) => sum + kind.bytes, 0),
      errors: kinds.reduce((sum, kind) => sum + kind.errors, 0),
    };
  }
}

/** The value below which a share of the values lies. */
export function quantile(values: readonly number[], share: number): number {
  const sorted = Float64Array.from(values).sort();
  return sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)] ?? Number.NaN;
}

/** Slope of a straight line through points, by least squares. */
export function slope(points: readonly (readonly [number, number])[]): number {
  const n = points.length;
  const meanX = points.reduce((sum, [x]) => sum + x, 0) / n;
  const meanY = points.reduce((sum, [, y]) => sum + y, 0) / n;
  const spread = points.reduce((sum, [x]) => sum + (x - meanX) ** 2, 0);
  return points.reduce((sum, [x, y]) => sum + (x - meanX) * (y - meanY), 0) / spread;
}

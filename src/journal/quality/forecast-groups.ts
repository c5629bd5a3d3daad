import {
  type BrierScore,
  type Forecast,
  type Interval,
  scoreForecastGroups,
  shareInterval,
} from '../../statistics/index.js';

/** Forecasts that lie within one thousandth of probability, summed up. */
export interface ForecastSums {
  readonly n: number;
  readonly happened: number;
  readonly sum: number;
  readonly squares: number;
  /** Sum of the forecasts of what happened. */
  readonly sumHappened: number;
  readonly least: number;
  readonly most: number;
}

/** Forecasts that lie close together and what came of them. */
export interface ReliabilityBin {
  readonly from: number;
  readonly until: number;
  readonly forecasts: number;
  readonly meanForecast: number;
  readonly happened: number;
  readonly share: number;
  /** Wilson interval of the share. */
  readonly interval: Interval;
}

/** What sums of forecasts tell: the score is exact, and so are the means of the bins. */
export interface BinnedScore {
  /** Mean squared difference between forecasts and what happened. */
  readonly score: number;
  /**
   * Brier score of the binned forecasts with its parts: score = reliability − resolution + uncertainty. It differs from
   * `score` a little, because within a bin all forecasts count as their mean.
   */
  readonly binned: BrierScore;
  /** Five bins of about equal numbers. */
  readonly bins: readonly ReliabilityBin[];
}

const BINS = 5;

/** Sums forecasts up by thousandths, by rising probability. */
export function sumForecasts(forecasts: readonly Forecast[]): ForecastSums[] {
  const groups = new Map<number, ForecastSums>();
  for (const { probability, happened } of forecasts) {
    const mille = Math.floor(probability * 1000);
    const known = groups.get(mille);
    groups.set(mille, {
      n: (known?.n ?? 0) + 1,
      happened: (known?.happened ?? 0) + (happened ? 1 : 0),
      sum: (known?.sum ?? 0) + probability,
      squares: (known?.squares ?? 0) + probability ** 2,
      sumHappened: (known?.sumHappened ?? 0) + (happened ? probability : 0),
      least: Math.min(known?.least ?? 1, probability),
      most: Math.max(known?.most ?? 0, probability),
    });
  }
  return [...groups].sort(([a], [b]) => a - b).map(([, sums]) => sums);
}

/**
 * Brier score and reliability in bins of about equal numbers. What lies within one thousandth stays together.
 * @param sums by rising probability, 1 or more
 */
export function scoreInBins(sums: readonly ForecastSums[]): BinnedScore {
  const total = add(sums);
  const bins = cutInBins(sums, total.n).map((group): ReliabilityBin => {
    const { n, happened, sum, least, most } = add(group);
    return {
      from: least,
      until: most,
      forecasts: n,
      meanForecast: Math.min(1, Math.max(0, sum / n)),
      happened,
      share: happened / n,
      interval: shareInterval(happened, n),
    };
  });
  return {
    score: (total.squares - 2 * total.sumHappened + total.happened) / total.n,
    binned: scoreForecastGroups(
      bins.map((bin) => ({ probability: bin.meanForecast, n: bin.forecasts, events: bin.happened })),
    ),
    bins,
  };
}

function cutInBins(sums: readonly ForecastSums[], all: number): ForecastSums[][] {
  const bins: ForecastSums[][] = [];
  let counted = 0;
  for (const group of sums) {
    // A group begins a new bin when those before it have their share already.
    const full = bins.length > 0 && counted >= Math.round((bins.length * all) / BINS);
    const last = bins.at(-1);
    if (last === undefined || (full && bins.length < BINS)) bins.push([group]);
    else last.push(group);
    counted += group.n;
  }
  return bins;
}

const add = (sums: readonly ForecastSums[]): ForecastSums =>
  sums.reduce(
    (total, one) => ({
      n: total.n + one.n,
      happened: total.happened + one.happened,
      sum: total.sum + one.sum,
      squares: total.squares + one.squares,
      sumHappened: total.sumHappened + one.sumHappened,
      least: Math.min(total.least, one.least),
      most: Math.max(total.most, one.most),
    }),
    { n: 0, happened: 0, sum: 0, squares: 0, sumHappened: 0, least: 1, most: 0 },
  );

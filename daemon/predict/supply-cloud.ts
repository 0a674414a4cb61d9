import type { Spread } from '../design/parts/spread.js';
import { quantiles } from './cloud/quantiles.js';
import { varianceShares } from './cloud/shares.js';

/** Many supplies built from one design, each with its parts drawn within their tolerance. Kept so that a measured value can weigh it anew. */
export interface SupplyCloud {
  readonly seed: number;
  readonly draws: number;
  /** Names of the uncertain values, `lamps.r2`, in the order of `inputs`. */
  readonly names: readonly string[];
  /** One column of draws for each uncertain value, in its unit. */
  readonly inputs: readonly Float64Array[];
  /** One column for each result, in its unit. */
  readonly results: Readonly<Record<string, Float64Array>>;
}

/** What the cloud says of one result. */
export interface CloudBand extends Spread {
  /** What its spread comes from: signed first-order variance shares, largest first, those under 1 % left out. */
  readonly shares: readonly SpreadShare[];
}

export interface SpreadShare {
  /** The uncertain value, `mainsVolts` or `lamps.r2`. */
  readonly from: string;
  /** 0 to 1. */
  readonly share: number;
  /** More of this value gives more (1) or less (-1). */
  readonly sign: 1 | -1;
}

const LEAST_SHARE = 0.01;

/**
 * Low, median and high of every result at 95 % coverage, and what each spread comes from.
 * @param weights how much each draw counts, of any sum; all alike when left out
 */
export function cloudBands(cloud: SupplyCloud, weights?: Float64Array): Record<string, CloudBand> {
  return Object.fromEntries(
    Object.entries(cloud.results).map(([key, column]) => [
      key,
      { ...columnSpread(column, weights), shares: sharesOf(cloud, column, weights) },
    ]),
  );
}

/** The same of one result, without what its spread comes from. */
export function columnSpread(column: Float64Array, weights?: Float64Array): Spread {
  const [low = NaN, typical = NaN, high = NaN] = quantiles(column, [0.025, 0.5, 0.975], weights);
  return { low, typical, high };
}

function sharesOf(
  { names, inputs }: SupplyCloud,
  column: Float64Array,
  weights?: Float64Array,
): SpreadShare[] {
  return varianceShares(inputs, column, weights)
    .map((share, at) => ({
      from: names[at] ?? '',
      share: Math.abs(share),
      sign: share < 0 ? (-1 as const) : (1 as const),
    }))
    .filter(({ share }) => share >= LEAST_SHARE)
    .sort((a, b) => b.share - a.share);
}

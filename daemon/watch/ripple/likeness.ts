import type { MainsFrequency, Trace } from './mains-frequency.js';

/** Places in a period: few, so that noise and an oscillation average out in each. */
const PLACES = 12;

/**
 * How alike the odd and the even mains periods of a trace are: the correlation of the one's mean period with the
 * other's (Pearson), 1 for a waveform that repeats, around 0 for wandering that only happens to fit.
 */
export function periodLikeness({ values, stepSeconds }: Trace, { hertz, drift }: MainsFrequency): number {
  const sums = [new Float64Array(PLACES), new Float64Array(PLACES)] as const;
  const counts = [new Float64Array(PLACES), new Float64Array(PLACES)] as const;
  const middle = (values.length - 1) / 2;
  for (let i = 0; i < values.length; i += 1) {
    const seconds = (i - middle) * stepSeconds;
    const turns = seconds * hertz;
    const period = Math.floor(turns);
    const parity = (period & 1) as 0 | 1;
    const place = Math.min(PLACES - 1, Math.floor((turns - period) * PLACES));
    sums[parity][place]! += values[i]! - seconds * drift;
    counts[parity][place]! += 1;
  }
  const both = [...sums[0].keys()].filter((place) => counts[0][place]! > 0 && counts[1][place]! > 0);
  const [even, odd] = ([0, 1] as const).map((parity) =>
    both.map((place) => sums[parity][place]! / counts[parity][place]!),
  ) as [number[], number[]];
  return correlation(even, odd);
}

function correlation(a: readonly number[], b: readonly number[]): number {
  const meanOf = (numbers: readonly number[]) => numbers.reduce((sum, one) => sum + one, 0) / numbers.length;
  const [meanA, meanB] = [meanOf(a), meanOf(b)];
  let ab = 0;
  let aa = 0;
  let bb = 0;
  for (let i = 0; i < a.length; i += 1) {
    ab += (a[i]! - meanA) * (b[i]! - meanB);
    aa += (a[i]! - meanA) ** 2;
    bb += (b[i]! - meanB) ** 2;
  }
  return ab / Math.sqrt(aa * bb);
}

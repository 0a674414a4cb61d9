import type { Spread } from '../../design/parts/spread.js';
import type { PointUnit } from '../../predict/prediction.js';
import type { MeasurablePoint, SuspectDistribution } from './model.js';
import { mixtureDensity, mixtureQuantile } from './normal-mixture.js';
import type { MixturePart } from './normal-mixture.js';
import type { Mark } from './settled.js';
import { unscaled } from './scale.js';

/** What one reading says about a suspect. Values are in the point's unit. */
export interface Evidence {
  readonly point: string;
  readonly unit: PointUnit;
  readonly speaks: 'for' | 'against';
  readonly value: number;
  /** What 95 % of the supplies with this fault read. */
  readonly expected: Spread;
  /** What 95 % of the healthy ones read. */
  readonly healthy: Spread;
  /** How many bits this reading by itself moves from the rival to the suspect; negative the other way. */
  readonly bits: number;
}

/** Two to one: less isn't worth a word. */
const LEAST_BITS = 1;
/** A reading that is so much rarer than the suspect's usual ones speaks against it. */
const SURPRISE = 0.03;

/**
 * The readings that speak for or against a suspect, the strongest first.
 * @param rival what the suspect is weighed against: the healthy supply, or for that one the most probable fault
 */
export function evidenceOf(
  suspect: SuspectDistribution,
  rival: SuspectDistribution,
  healthy: SuspectDistribution,
  marks: readonly Mark[],
  points: readonly MeasurablePoint[],
): Evidence[] {
  return marks
    .flatMap((mark): Evidence[] => {
      const { id, unit, scale } = points[mark.place]!;
      const own = marginal(suspect, mark);
      const density = mixtureDensity(own, mark.value);
      const bits = Math.log2((density + TINY) / (mixtureDensity(marginal(rival, mark), mark.value) + TINY));
      const highest = Math.max(...own.map(({ mean }) => mixtureDensity(own, mean)));
      const surprises = density < SURPRISE * highest;
      if (!surprises && Math.abs(bits) < LEAST_BITS) return [];
      return [
        {
          point: id,
          unit,
          speaks: surprises || bits < 0 ? 'against' : 'for',
          value: unscaled(mark.value, scale),
          expected: bandOf(own, points[mark.place]!),
          healthy: bandOf(marginal(healthy, mark), points[mark.place]!),
          bits,
        },
      ];
    })
    .sort((a, b) => Math.abs(b.bits) - Math.abs(a.bits));
}

/** Keeps the logarithm of what can't be in sight; beyond 1000 to 1 it makes no difference to a person. */
const TINY = 1e-12;

function marginal({ components }: SuspectDistribution, { place, doubt }: Mark): MixturePart[] {
  return components.map(({ share, mean, covariance }) => ({
    share,
    mean: mean[place]!,
    variance: covariance[place * mean.length + place]! + doubt ** 2,
  }));
}

function bandOf(parts: readonly MixturePart[], { scale }: MeasurablePoint): Spread {
  const at = (share: number): number => unscaled(mixtureQuantile(parts, share), scale);
  return { low: at(0.025), typical: at(0.5), high: at(0.975) };
}

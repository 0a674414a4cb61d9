import type { Spread } from '../../design/parts/spread.js';
import type { PointUnit } from '../../predict/prediction.js';
import { conditionals } from './conditional.js';
import type { MeasurablePoint, SuspectDistribution } from './model.js';
import { mixtureLogDensity, mixtureQuantile } from './normal-mixture.js';
import type { MixturePart } from './normal-mixture.js';
import type { Mark } from './settled.js';
import { unscaled } from './scale.js';

/** What one reading says about a suspect. Values are in the point's unit. */
export interface Evidence {
  readonly point: string;
  readonly unit: PointUnit;
  readonly speaks: 'for' | 'against';
  readonly value: number;
  /** What 95 % of the supplies with this fault read, in air as warm as was measured. */
  readonly expected: Spread;
  /** What 95 % of the healthy ones read there. */
  readonly healthy: Spread;
  /** For: how much likelier it is than with the rival. Against: how much likelier the fault's usual readings are. */
  readonly bits: number;
}

/** Two to one: less isn't worth a word. */
const LEAST_BITS = 1;
/** Against a suspect speaks what is thirty times rarer with it than its usual readings. */
const SURPRISE_BITS = 5;
/** More certain than this nobody need be. */
const MOST_BITS = 50;
/** The one reading that changes what others should be and that neither a fault nor the load changes. */
export const ROOM = 'ambient.air';

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
  const room = marks.filter(({ place }) => points[place]!.id === ROOM);
  return marks
    .filter((mark) => !room.includes(mark))
    .flatMap((mark) => {
      const point = points[mark.place]!;
      const own = spread(suspect, mark, room);
      const log = mixtureLogDensity(own, mark.value);
      const usual = Math.max(...own.map(({ mean }) => mixtureLogDensity(own, mean)));
      const healthyBand = bandOf(spread(healthy, mark, room), point);
      const bitsAgainst = (usual - log) / Math.LN2;
      const bitsFor = (log - mixtureLogDensity(spread(rival, mark, room), mark.value)) / Math.LN2;
      const value = unscaled(mark.value, point.scale);
      const asHealthy = value >= healthyBand.low && value <= healthyBand.high;
      const isAgainst = bitsAgainst > SURPRISE_BITS;
      if (!isAgainst && (bitsFor < LEAST_BITS || asHealthy !== (suspect === healthy))) return [];
      return [
        {
          point: point.id,
          unit: point.unit,
          speaks: isAgainst ? ('against' as const) : ('for' as const),
          value,
          expected: bandOf(own, point),
          healthy: healthyBand,
          bits: Math.min(MOST_BITS, isAgainst ? bitsAgainst : bitsFor),
        },
      ];
    })
    .sort((a, b) => b.bits - a.bits);
}

/** What the suspect reads at the mark's point. */
function spread(
  { components }: SuspectDistribution,
  { place, doubt }: Mark,
  room: readonly Mark[],
): MixturePart[] {
  return components.map((component) => {
    const { mean, variance } = conditionals(component, room, [place])[0]!;
    return { share: component.share, mean, variance: variance + doubt ** 2 };
  });
}

function bandOf(parts: readonly MixturePart[], { scale, unit }: MeasurablePoint): Spread {
  const least = unit === 'V' || unit === 'degC' ? -Infinity : 0;
  const at = (share: number): number => Math.max(least, unscaled(mixtureQuantile(parts, share), scale));
  return { low: at(0.025), typical: at(0.5), high: at(0.975) };
}

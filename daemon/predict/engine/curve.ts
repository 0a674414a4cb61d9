import type { Spread } from '../../design/parts/spread.js';
import { modesOf, temperaturesAfter } from '../thermal/modes.js';
import { warmUp } from '../thermal/warm-up.js';
import type { CapacityEnd, CooledPart } from './heat-path.js';
import { caseNode, cooledParts, sharedNetwork, sharedSinkOf, stackNetwork, stackOf } from './heat-path.js';
import type { SupplyModel } from './model.js';

/** A case's temperature from switch-on, cold. */
export interface TemperatureCurve {
  readonly atSeconds: Float64Array;
  /** Degrees C at these instants. */
  readonly low: Float64Array;
  readonly typical: Float64Array;
  readonly high: Float64Array;
  /** With which the case nears its rest, slowest first, s. */
  readonly timeConstants: readonly number[];
}

/** How fast the air inside an enclosure follows the power switch, s (common practice: some ten minutes). */
const ENCLOSURE_SECONDS = 600;

/**
 * The case of every cooled part over time, by the id of its test point (`lamps.case`).
 *
 * The shape is that of the typical supply: junction, case and heatsink warmed by its settled heat, in air that warms
 * with the enclosure. The band joins where the case begins (the ambient's) to where it settles (its own) along that
 * shape, its low end with the largest heat capacities and its high end with the smallest. Parts on a shared heatsink
 * warm each other.
 * @param bands low, typical and high of each test point, `ambient.air` among them
 */
export function temperatureCurves(
  model: SupplyModel,
  bands: Readonly<Record<string, Spread>>,
  atSeconds: ArrayLike<number>,
): Record<string, TemperatureCurve> {
  model.solve(model.typicalDraw());
  const start = bands['ambient.air'];
  if (start === undefined) throw new RangeError('temperature curves need a band of ambient.air');
  const instants = Float64Array.from(atSeconds);
  const parts = cooledParts(model);
  const curves = parts.map((part) => {
    const id = `${part.name}.case`;
    const rest = bands[id];
    if (rest === undefined) throw new RangeError(`temperature curves need a band of ${id}`);
    const along = (end: CapacityEnd, from: number, to: number): Float64Array =>
      wayToRest(part, parts, model, end, instants).map((share) => from + share * (to - from));
    const curve: TemperatureCurve = {
      atSeconds: instants,
      low: along('high', start.low, rest.low),
      typical: along('typical', start.typical, rest.typical),
      high: along('low', start.high, rest.high),
      timeConstants: timeConstantsOf(part, parts, model),
    };
    return [id, curve] as const;
  });
  return Object.fromEntries(curves);
}

/** With which a part's case nears its rest in a supply that has just been solved, slowest first, s. */
export function timeConstantsOf(
  part: CooledPart,
  parts: readonly CooledPart[],
  { description, air }: SupplyModel,
): number[] {
  const sink = sharedSinkOf(part.cooling);
  const network =
    sink === null ? stackNetwork(part, air) : sharedNetwork(sink, parts, description, 'typical', air);
  return [...modesOf(network).timeConstants];
}

/** Which share of its way from the cold ambient to its rest the case has gone at each instant. */
function wayToRest(
  part: CooledPart,
  parts: readonly CooledPart[],
  model: SupplyModel,
  end: CapacityEnd,
  atSeconds: Float64Array,
): Float64Array {
  const { ambient, air } = model;
  const own = caseRises(part, parts, model, end, atSeconds);
  const whole = air - ambient + (part.case - air);
  if (!(whole > 0)) return new Float64Array(atSeconds.length).fill(1);
  return own.map((rise, k) => {
    const warmed = -(air - ambient) * Math.expm1(-atSeconds[k]! / ENCLOSURE_SECONDS);
    return (warmed + rise) / whole;
  });
}

/** The case above the air inside at each instant, K. */
function caseRises(
  part: CooledPart,
  parts: readonly CooledPart[],
  { description, air }: SupplyModel,
  end: CapacityEnd,
  atSeconds: Float64Array,
): Float64Array {
  const sink = sharedSinkOf(part.cooling);
  if (sink === null) {
    const spell = { fromSeconds: 0, watts: Math.max(0, part.watts), air };
    const { temperatures } = warmUp(stackOf(part, end), [spell], atSeconds);
    return temperatures[1]!.map((temperature) => temperature - air);
  }
  const network = sharedNetwork(sink, parts, description, end, air);
  const modes = modesOf(network);
  const watts = network.names.map((name) => {
    return parts.find((other) => name === `${other.name}.junction`)?.watts ?? 0;
  });
  const node = caseNode(network, part);
  return atSeconds.map((seconds) => temperaturesAfter(modes, seconds, watts, air)[node]! - air);
}

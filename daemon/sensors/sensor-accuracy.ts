import type { Accuracy } from '../design/bench.js';
import { halfWidth, resolutionAt } from '../watch/compare.js';
import type { Measurand } from '../../drivers/driver.js';
import type { Convert } from '../../drivers/sensors/conversion.js';
import type { SensorTolerance } from '../../drivers/sensors/tolerance.js';

/** Sizes of temperatures up to which one half width is given, degrees C: close together where cases are. */
const TEMPERATURE_STEPS = [
  ...Array.from({ length: 20 }, (_, i) => (i + 1) * 10),
  ...[250, 300, 400, 500, 700, 1000, 1400],
];
/** As cold as a bench gets; a range holds values of either sign, so what is colder would widen the warm ones too. */
const COLDEST = -10;
/** Stands for one count where the instrument's isn't known: too small for anything to rest on it. */
const NO_RESOLUTION = 1e-6;
/** An instrument of which nothing is said. */
const UNSTATED: Accuracy = { percent: 0, counts: 0 };
/** For a cold junction that a channel measures: a bench's terminals are about this warm (common practice). */
const USUAL_TERMINALS = 25;

/** A channel's sensor as it counts for the accuracy. */
export interface CountedSensor {
  readonly convert: Convert;
  /** Null for one that measures no temperature. */
  readonly tolerance: SensorTolerance | null;
}

/**
 * What an instrument's accuracy is once its sensor has been counted in; undefined when nothing is known of either. For a
 * factor it is exact; for a temperature the half width is the largest of each step of temperatures, found by converting
 * value and value ± U. The sensor's tolerance has nothing to do with the instrument's, so that the squares of the two
 * half widths add up (JCGM 100:2008, 5.1.2).
 * @param raw what the instrument measures
 */
export function sensorAccuracy(
  accuracy: Accuracy | undefined,
  raw: Measurand,
  { convert, tolerance }: CountedSensor,
): Accuracy | undefined {
  if (convert.measures(raw) === 'temperature' && (accuracy !== undefined || tolerance !== null)) {
    return temperatureAccuracy(accuracy ?? UNSTATED, raw, convert, tolerance);
  }
  return accuracy && scaledAccuracy(accuracy, Math.abs(convert.value(1).value ?? 1));
}

function scaledAccuracy(accuracy: Accuracy, factor: number): Accuracy {
  const scaled = <T extends { readonly resolution?: number | undefined }>(one: T): T => ({
    ...one,
    ...(one.resolution !== undefined && { resolution: one.resolution * factor }),
  });
  const { ranges } = accuracy;
  return {
    ...scaled(accuracy),
    ...(ranges && { ranges: ranges.map((one) => ({ ...scaled(one), up_to: one.up_to * factor })) }),
  };
}

/** The largest of one step of temperatures. */
interface Width {
  isReached: boolean;
  ofInstrument: number;
  ofSensor: number;
  resolution: number;
}

function temperatureAccuracy(
  accuracy: Accuracy,
  raw: Measurand,
  convert: Convert,
  tolerance: SensorTolerance | null,
): Accuracy {
  const widths = TEMPERATURE_STEPS.map((step): Width => ({
    isReached: false,
    ofInstrument: 0,
    // What is tried below hardly ever lies at the very end of a step.
    ofSensor: tolerance?.at(step) ?? 0,
    resolution: 0,
  }));
  for (const value of raw === 'ohms' ? ohmsToTry() : voltsToTry()) {
    const temperature = temperatureOf(convert, value);
    if (temperature === null || temperature < COLDEST) continue;
    const width = widths[TEMPERATURE_STEPS.findIndex((step) => Math.abs(temperature) <= step)];
    if (width === undefined) continue;
    width.isReached = true;
    width.ofInstrument = Math.max(width.ofInstrument, spread(convert, value, halfWidth(value, accuracy)));
    width.ofSensor = Math.max(width.ofSensor, ownWidth(convert, value, temperature, tolerance));
    width.resolution = Math.max(width.resolution, spread(convert, value, resolutionAt(value, accuracy)));
  }
  const ranges = widths.flatMap(({ isReached, ofInstrument, ofSensor, resolution }, i) => {
    const half = Math.hypot(ofInstrument, ofSensor);
    return isReached && half > 0
      ? [{ up_to: TEMPERATURE_STEPS[i] ?? 0, ...asAccuracy(half, resolution) }]
      : [];
  });
  const widest = ranges.reduce((most, { counts, resolution }) => Math.max(most, counts * resolution), 0);
  return { ...asAccuracy(widest, 0), ranges };
}

function ownWidth(
  convert: Convert,
  value: number,
  temperature: number,
  tolerance: SensorTolerance | null,
): number {
  if (tolerance === null) return 0;
  return tolerance.at(temperature) + spread(convert, value, (value * tolerance.ofRawPercent) / 100);
}

/** A half width in degrees, in the words of a meter's manual: so many counts of a resolution. */
function asAccuracy(half: number, known: number): { percent: number; counts: number; resolution: number } {
  const resolution = known > 0 ? known : NO_RESOLUTION;
  return { percent: 0, counts: half / resolution, resolution };
}

/** How far the temperature moves when the instrument's value is wrong by `by`, either way. */
function spread(convert: Convert, value: number, by: number): number {
  const [below, here, above] = [value - by, value, value + by].map((one) => temperatureOf(convert, one));
  return Math.max(distance(below, here), distance(above, here));
}

function distance(a: number | null | undefined, b: number | null | undefined): number {
  return a == null || b == null ? 0 : Math.abs(a - b);
}

function temperatureOf(convert: Convert, value: number): number | null {
  return convert.value(value, convert.coldJunctionChannel === null ? null : USUAL_TERMINALS).value;
}

/** From -10 mV to 80 mV, all that thermocouples give, half a kelvin or less apart (type K: 41 uV/K). */
function voltsToTry(): number[] {
  return Array.from({ length: 4501 }, (_, i) => -0.01 + i * 2e-5);
}

/** From 0.1 ohm to 10 Mohm, half a kelvin or less apart (platinum: 0.385 % a kelvin). */
function ohmsToTry(): number[] {
  return Array.from({ length: 10_001 }, (_, i) => 0.1 * 10 ** (i * 8e-4));
}

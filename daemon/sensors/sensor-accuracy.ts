import type { Accuracy } from '../design/bench.js';
import { halfWidth, resolutionAt } from '../watch/compare.js';
import type { Measurand } from '../../drivers/driver.js';
import type { Convert } from '../../drivers/sensors/conversion.js';

/** Sizes of temperatures up to which one half width is given, degrees C: close together where cases are. */
const TEMPERATURE_STEPS = [
  ...Array.from({ length: 20 }, (_, i) => (i + 1) * 10),
  ...[250, 300, 400, 500, 700, 1000, 1400],
];
/** Colder than any bench; a range holds values of either sign, so what is colder would widen the warm ones too. */
const COLDEST = -40;
/** For a cold junction that a channel measures: a bench's terminals are about this warm (common practice). */
const USUAL_TERMINALS = 25;

/**
 * What an instrument's accuracy is once its sensor has been counted in. For a factor it is exact; for a temperature the
 * half width is the largest of each step of temperatures, found by converting value and value ± U.
 * @param raw what the instrument measures
 */
export function sensorAccuracy(accuracy: Accuracy, raw: Measurand, convert: Convert): Accuracy {
  return convert.measures(raw) === 'temperature'
    ? temperatureAccuracy(accuracy, raw, convert)
    : scaledAccuracy(accuracy, Math.abs(convert.value(1).value ?? 1));
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

interface Width {
  halfWidth: number;
  resolution: number;
}

function temperatureAccuracy(accuracy: Accuracy, raw: Measurand, convert: Convert): Accuracy {
  const widths = TEMPERATURE_STEPS.map((): Width => ({ halfWidth: 0, resolution: 0 }));
  for (const value of raw === 'ohms' ? ohmsToTry() : voltsToTry()) {
    const temperature = temperatureOf(convert, value);
    if (temperature === null || temperature < COLDEST) continue;
    const width = widths[TEMPERATURE_STEPS.findIndex((step) => Math.abs(temperature) <= step)];
    if (width === undefined) continue;
    width.halfWidth = Math.max(width.halfWidth, spread(convert, value, halfWidth(value, accuracy)));
    width.resolution = Math.max(width.resolution, spread(convert, value, resolutionAt(value, accuracy)));
  }
  const ranges = widths.flatMap(({ halfWidth: half, resolution }, i) =>
    half === 0 ? [] : [{ up_to: TEMPERATURE_STEPS[i] ?? 0, ...asAccuracy(half, resolution) }],
  );
  const widest = ranges.reduce((most, { counts, resolution }) => Math.max(most, counts * resolution), 0);
  return { ...asAccuracy(widest, 0), ranges };
}

/** A half width in degrees, in the words of a meter's manual: so many counts of a resolution. */
function asAccuracy(
  half: number,
  resolution: number,
): { percent: number; counts: number; resolution: number } {
  return resolution > 0
    ? { percent: 0, counts: half / resolution, resolution }
    : { percent: 0, counts: 1, resolution: half };
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

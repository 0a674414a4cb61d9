import type { MainsFrequency, Trace } from './mains-frequency.js';
import { findOscillation } from './oscillation.js';
import type { Rest } from './ripple.js';

/** Of the ripple's peak-to-peak; a smaller oscillation isn't worth a word. */
const WORTH_TELLING = 0.01;
/** Of a step of the converter; below it, rounding alone looks like an oscillation. */
const SHARE_OF_STEP = 0.3;

/**
 * What is on the trace besides its drift and the mains-locked waveform (`table`, V over one period). `stepVolts` is
 * the converter's, 0 where it isn't known.
 */
export function restOf(trace: Trace, mains: MainsFrequency, table: Float64Array, stepVolts: number): Rest {
  const rest = without(trace, mains, table);
  let low = Infinity;
  let high = -Infinity;
  let square = 0;
  for (const value of rest) {
    low = Math.min(low, value);
    high = Math.max(high, value);
    square += value * value;
  }
  const peakToPeak = high - low;
  const least = Math.max(WORTH_TELLING * span(table), SHARE_OF_STEP * stepVolts);
  return {
    peakToPeak,
    rms: Math.sqrt(square / rest.length),
    oscillation: findOscillation({ values: rest, stepSeconds: trace.stepSeconds }, mains.hertz, least),
  };
}

function span(table: Float64Array): number {
  return (
    table.reduce((most, value) => Math.max(most, value), -Infinity) -
    table.reduce((least, value) => Math.min(least, value), Infinity)
  );
}

function without(
  { values, stepSeconds }: Trace,
  { hertz, drift }: MainsFrequency,
  table: Float64Array,
): Float64Array {
  const rest = new Float64Array(values.length);
  const middle = (values.length - 1) / 2;
  const places = table.length;
  for (let i = 0; i < values.length; i += 1) {
    const seconds = (i - middle) * stepSeconds;
    const turns = seconds * hertz;
    const along = (turns - Math.floor(turns)) * places;
    const place = Math.min(places - 1, Math.floor(along));
    const next = place + 1 < places ? place + 1 : 0;
    const waveform = table[place]! + (along - place) * (table[next]! - table[place]!);
    rest[i] = values[i]! - seconds * drift - waveform;
  }
  return rest;
}

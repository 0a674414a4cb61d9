import { meanPower } from './fourier.js';
import type { MainsFrequency, Trace } from './mains-frequency.js';
import type { Oscillation, Rest } from './ripple.js';

/** Below so many times the mains, what is left may still be the ripple's own shape. */
const FIRST_MULTIPLE = 8;
const LONGEST_PART = 8192;
const SHORTEST_PART = 256;
/** A line this many times above the median stands out of noise: 1 in 1000 captures of plain noise has one. */
const STANDS_OUT = 30;
/** Of the ripple's peak-to-peak; smaller than this isn't worth a word. */
const WORTH_TELLING = 0.01;
/** Common practice: fewer samples a cycle show neither the frequency nor the height of an oscillation. */
const SAMPLES_A_CYCLE = 2.5;
/** Bins on either side that belong to a line, at most. */
const WIDEST = 40;

/** What is on the trace besides its drift and the mains-locked waveform (`table`, V over one period). */
export function restOf(trace: Trace, mains: MainsFrequency, table: Float64Array): Rest {
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
  const least = WORTH_TELLING * span(table);
  return {
    peakToPeak,
    rms: Math.sqrt(square / rest.length),
    oscillation: findOscillation(rest, trace.stepSeconds, FIRST_MULTIPLE * mains.hertz, least),
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

/** The strongest line at or above `fromHertz`, with at least this amplitude; null when none stands out. */
function findOscillation(
  rest: Float64Array,
  stepSeconds: number,
  fromHertz: number,
  leastAmplitude: number,
): Oscillation | null {
  const size = partSize(rest.length);
  if (size < SHORTEST_PART) return null;
  const power = meanPower(rest, size);
  const first = Math.ceil(fromHertz * stepSeconds * size);
  const background = median(power.subarray(Math.min(first, power.length - 1)));
  let strongest = first;
  for (let k = first; k < power.length; k += 1) if (power[k]! > power[strongest]!) strongest = k;
  if (!(power[strongest]! > STANDS_OUT * background)) return null;
  const line = gather(power, strongest, first);
  const amplitude = Math.sqrt(2 * line.power);
  if (amplitude < leastAmplitude) return null;
  const cycles = line.centre / size;
  return { hertz: cycles * SAMPLES_A_CYCLE < 1 ? cycles / stepSeconds : null, amplitude };
}

function partSize(length: number): number {
  return Math.min(LONGEST_PART, 2 ** Math.floor(Math.log2(length)));
}

function median(values: Float64Array): number {
  return values.slice().sort()[values.length >> 1]!;
}

/** A line's power and its centre of gravity, down to a tenth of its height on either side. */
function gather(power: Float64Array, strongest: number, first: number): { power: number; centre: number } {
  const enough = power[strongest]! / 10;
  let from = strongest;
  let until = strongest;
  while (from > first && strongest - from < WIDEST && power[from - 1]! > enough) from -= 1;
  while (until + 1 < power.length && until - strongest < WIDEST && power[until + 1]! > enough) until += 1;
  let sum = 0;
  let moment = 0;
  for (let k = from; k <= until; k += 1) {
    sum += power[k]!;
    moment += k * power[k]!;
  }
  return { power: sum, centre: moment / sum };
}

import { foldHalves, type Fold } from './fold.js';
import { amplitudeOf, fillHarmonics } from './harmonics.js';
import { addRow, normalEquations, solveNormal } from './least-squares.js';
import { charges, fitOnePulse, fitTwoPulses, pulsesAt, type Pulses } from './pulses.js';

/** The mains-locked waveform over one mains period. */
export interface Waveform {
  /** V at evenly spaced phases of the period. */
  readonly table: Float64Array;
  readonly halves: 'both' | 'uneven' | 'one';
}

const TABLE = 960;
/** Harmonics of the mains in which a waveform is looked at. */
const HARMONICS = 40;
/** Up to here a difference from the pulses is the ripple's own shape; beyond, more of it means ringing. */
const SHAPE_HARMONICS = 16;
/** A harmonic is told from noise when its power is this many times what noise puts there (1 in 400 by chance). */
const TOLD_FROM_NOISE = 6;
/** Odd harmonics below this share of the even ones make the halves alike. */
const ALIKE = 0.015;
/** A second pulse that brings less than this share of the first one's charge is none. */
const NO_CHARGE = 0.06;
/** A second pulse must explain at least this much more than one does: seven more coefficients always explain some. */
const EXPLAINS_MORE = 1.2;

/** The waveform that the fold shows; null when it fits no waveform of a rail. */
export function mainsWaveform(fold: Fold): Waveform | null {
  const halves = foldHalves(fold);
  const average = fitOnePulse(halves);
  if (average === null) return null;
  const spectrum = spectrumOf(fold, fold.values, HARMONICS);
  if (areAlike(spectrum))
    return { table: shaped(fold, (p) => pulsesAt(average, (2 * p) % 1), 2), halves: 'both' };
  const two = fitTwoPulses(fold, average);
  const one = fitOnePulse(fold);
  return unevenWaveform(fold, one, two);
}

function unevenWaveform(fold: Fold, one: Pulses | null, two: Pulses | null): Waveform | null {
  const pulses = haveBoth(one, two) ? two : one;
  if (pulses === null) return null;
  return { table: shaped(fold, (p) => pulsesAt(pulses, p), 1), halves: pulses === one ? 'one' : 'uneven' };
}

function haveBoth(one: Pulses | null, two: Pulses | null): boolean {
  if (one === null || two === null) return two !== null;
  const both = charges(two);
  return Math.min(...both) > NO_CHARGE * Math.max(...both) && one.residual > EXPLAINS_MORE * two.residual;
}

interface Spectrum {
  readonly coefficients: Float64Array;
  /** Squared amplitude that noise alone puts into a harmonic. */
  readonly noise: number;
}

/** Harmonics 1 to `count` of the fold by least squares, and the noise by what they leave. */
function spectrumOf(fold: Fold, values: Float64Array, count: number): Spectrum | null {
  const harmonics = Math.min(count, Math.floor((fold.phases.length - 2) / 4));
  const size = 1 + 2 * harmonics;
  const equations = normalEquations(size);
  const row = new Float64Array(size);
  row[0] = 1;
  let weight = 0;
  for (let i = 0; i < values.length; i += 1) {
    fillHarmonics(row, 1, 2 * Math.PI * fold.phases[i]!, harmonics);
    addRow(equations, row, values[i]!, fold.weights[i]!);
    weight += fold.weights[i]!;
  }
  const solution = solveNormal(equations);
  if (solution === null) return null;
  const noise = (4 * solution.residual) / (values.length - size) / weight;
  return { coefficients: solution.coefficients, noise };
}

function powerOf({ coefficients }: Spectrum, n: number): number {
  return amplitudeOf(coefficients, 1, n) ** 2;
}

function countOf({ coefficients }: Spectrum): number {
  return (coefficients.length - 1) / 2;
}

function areAlike(spectrum: Spectrum | null): boolean {
  if (spectrum === null) return true;
  const odd = powerOf(spectrum, 1) + powerOf(spectrum, 3) + powerOf(spectrum, 5);
  const even = powerOf(spectrum, 2) + powerOf(spectrum, 4) + powerOf(spectrum, 6);
  return odd < Math.max(ALIKE ** 2 * even, 3 * TOLD_FROM_NOISE * spectrum.noise);
}

/**
 * The pulses, and whatever the fold shows beside them when that is a matter of shape (its power sits in the low
 * harmonics) and not of ringing. `every`: 2 when only even harmonics can be the rail's.
 */
function shaped(fold: Fold, pulsesAtPhase: (phase: number) => number, every: 1 | 2): Float64Array {
  const table = Float64Array.from({ length: TABLE }, (_, at) => pulsesAtPhase(at / TABLE));
  const beside = fold.values.map((value, i) => value - pulsesAtPhase(fold.phases[i]!));
  const spectrum = spectrumOf(fold, beside, HARMONICS);
  if (spectrum === null) return table;
  const told = toldHarmonics(spectrum, every);
  const power = (some: readonly number[]): number => some.reduce((sum, n) => sum + powerOf(spectrum, n), 0);
  const low = told.filter((n) => n <= SHAPE_HARMONICS);
  if (2 * power(low) < power(told)) return table;
  for (let at = 0; at < TABLE; at += 1) {
    for (const n of told) table[at]! += harmonicAt(spectrum, n, at / TABLE);
  }
  return table;
}

function toldHarmonics(spectrum: Spectrum, every: 1 | 2): readonly number[] {
  return Array.from({ length: countOf(spectrum) }, (_, at) => at + 1).filter(
    (n) => n % every === 0 && powerOf(spectrum, n) > TOLD_FROM_NOISE * spectrum.noise,
  );
}

function harmonicAt({ coefficients }: Spectrum, n: number, phase: number): number {
  const angle = 2 * Math.PI * n * phase;
  return coefficients[2 * n - 1]! * Math.cos(angle) + coefficients[2 * n]! * Math.sin(angle);
}

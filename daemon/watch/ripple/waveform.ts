import { foldHalves, type Fold } from './fold.js';
import { amplitudeOf, fillHarmonics } from './harmonics.js';
import { addRow, normalEquations, solveNormal } from './least-squares.js';
import { charges, fitAgain, fitOnePulse, fitTwoPulses, pulsesAt, type Pulses } from './pulses.js';

/** The mains-locked waveform over one mains period. */
export interface Waveform {
  /** V at evenly spaced phases of the period. */
  readonly table: Float64Array;
  readonly halves: 'both' | 'uneven' | 'one';
}

/** A capture that has lost its sign is a negative rail's when that leaves this much less. */
const CLEARLY_LESS = 0.5;
/** How often ringing is taken off. */
const ROUNDS = 4;
const TABLE = 960;
/** Harmonics of the mains in which a waveform is looked at. */
const HARMONICS = 40;
/** Of the ripple: up to here a difference from the pulses is its own shape; beyond, more of it means ringing. */
const SHAPE_HARMONICS = 8;
/** A harmonic is told from noise when its power is this many times what noise puts there (1 in 400 by chance). */
const TOLD_FROM_NOISE = 6;
/** Odd harmonics below this share of the even ones make the halves alike. */
const ALIKE = 0.015;
/** A second pulse that brings less than this share of the first one's charge is none. */
const NO_CHARGE = 0.1;
/** A second pulse must explain at least this much more than one does: seven more coefficients always explain some. */
const EXPLAINS_MORE = 1.2;

/**
 * The waveform that the fold shows; null when it fits none. `sign`: of the rail's volts; null where the coupling has
 * lost it, and the waveform itself tells which way it is charged.
 */
export function mainsWaveform(fold: Fold, sign: 1 | -1 | null): Waveform | null {
  const positive = sign === -1 ? null : fitOnePulse(foldHalves(fold));
  const turned = { ...fold, values: fold.values.map((value) => -value) };
  const negative = sign === 1 ? null : fitOnePulse(foldHalves(turned));
  if (negative !== null && (positive === null || negative.residual < CLEARLY_LESS * positive.residual)) {
    const waveform = positiveWaveform(turned, negative);
    return waveform && { ...waveform, table: waveform.table.map((value) => -value) };
  }
  return positive && positiveWaveform(fold, positive);
}

/** `average`: what the halves have on average. */
function positiveWaveform(fold: Fold, average: Pulses): Waveform | null {
  const spectrum = spectrumOf(fold, fold.values);
  if (spectrum === null || areAlike(spectrum)) {
    return { table: shaped({ fold, turns: 2, pulses: average }), halves: 'both' };
  }
  const two = fitTwoPulses(fold, average);
  const one = fitOnePulse(fold);
  const pulses = haveBoth(one, two) ? two : one;
  if (pulses === null) return null;
  return { table: shaped({ fold, turns: 1, pulses }), halves: pulses === one ? 'one' : 'uneven' };
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

/** The harmonics of the fold by least squares, and the noise by what they leave. */
function spectrumOf(fold: Fold, values: Float64Array): Spectrum | null {
  const harmonics = Math.min(HARMONICS, Math.floor((fold.phases.length - 2) / 4));
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

function areAlike(spectrum: Spectrum): boolean {
  const odd = powerOf(spectrum, 1) + powerOf(spectrum, 3) + powerOf(spectrum, 5);
  const even = powerOf(spectrum, 2) + powerOf(spectrum, 4) + powerOf(spectrum, 6);
  return odd < Math.max(ALIKE ** 2 * even, 3 * TOLD_FROM_NOISE * spectrum.noise);
}

/** Pulses that a fold has so many times in a mains period. */
interface Fitted {
  readonly fold: Fold;
  readonly turns: 1 | 2;
  readonly pulses: Pulses;
}

/**
 * The pulses over a mains period, and what the fold shows beside them when that is a matter of shape (strongest
 * in a low harmonic). When it is ringing, it is taken off and the pulses are fitted again, a few times, as they
 * had bent to it.
 */
function shaped(fitted: Fitted): Float64Array {
  const shape = SHAPE_HARMONICS * fitted.turns;
  let now = fitted;
  for (let round = 0; round < ROUNDS; round += 1) {
    const beside = spectrumOf(fitted.fold, besidePulses(now));
    const told = beside === null ? [] : toldHarmonics(beside);
    if (beside === null || told.length === 0) return tableOf(now);
    if (strongestOf(beside, told) <= shape) {
      return withHarmonics(
        tableOf(now),
        beside,
        told.filter((n) => n % now.turns === 0),
      );
    }
    now = fitWithout(
      now,
      beside,
      told.filter((n) => n > shape),
    );
  }
  return tableOf(now);
}

function fittedAt({ turns, pulses }: Fitted, phase: number): number {
  return pulsesAt(pulses, (turns * phase) % 1);
}

function besidePulses(fitted: Fitted): Float64Array {
  const { phases, values } = fitted.fold;
  return values.map((value, i) => value - fittedAt(fitted, phases[i]!));
}

function tableOf(fitted: Fitted): Float64Array {
  return new Float64Array(TABLE).map((_, at) => fittedAt(fitted, at / TABLE));
}

function withHarmonics(table: Float64Array, spectrum: Spectrum, harmonics: readonly number[]): Float64Array {
  return table.map((volts, at) =>
    harmonics.reduce((sum, n) => sum + harmonicAt(spectrum, n, at / TABLE), volts),
  );
}

function fitWithout(
  { fold, turns, pulses }: Fitted,
  ringing: Spectrum,
  harmonics: readonly number[],
): Fitted {
  const values = fold.values.map((value, i) =>
    harmonics.reduce((sum, n) => sum - harmonicAt(ringing, n, fold.phases[i]!), value),
  );
  const quiet = { ...fold, values };
  return { fold, turns, pulses: fitAgain(turns === 2 ? foldHalves(quiet) : quiet, pulses) };
}

function toldHarmonics(spectrum: Spectrum): readonly number[] {
  return Array.from({ length: countOf(spectrum) }, (_, at) => at + 1).filter(
    (n) => powerOf(spectrum, n) > TOLD_FROM_NOISE * spectrum.noise,
  );
}

function strongestOf(spectrum: Spectrum, harmonics: readonly number[]): number {
  return harmonics.reduce((best, n) => (powerOf(spectrum, n) > powerOf(spectrum, best) ? n : best));
}

function harmonicAt({ coefficients }: Spectrum, n: number, phase: number): number {
  const angle = 2 * Math.PI * n * phase;
  return coefficients[2 * n - 1]! * Math.cos(angle) + coefficients[2 * n]! * Math.sin(angle);
}

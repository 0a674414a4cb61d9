import { solveCholesky } from '../../predict/cloud/cholesky.js';
import { fillHarmonics } from './harmonics.js';
import { addRow, normalEquations, solveNormal, type Solution } from './least-squares.js';

/** Evenly spaced samples about their middle. */
export interface Trace {
  readonly values: Float64Array;
  readonly stepSeconds: number;
}

export interface MainsFrequency {
  readonly hertz: number;
  /** One standard deviation for white noise, Hz. */
  readonly deviation: number;
  /** Straight drift, V a second. */
  readonly drift: number;
  /** How much better than chance the fit is: Fisher's F ratio. */
  readonly ratio: number;
}

/** Hz; the two mains frequencies of the world and what a small generator makes of them. */
const LOWEST = 46.5;
const HIGHEST = 64;
/** Nearer than this to what is expected counts fully, the rest at the share below. */
const NEAR_EXPECTED = 0.06;
const UNEXPECTED = 0.8;
const COARSE_POINTS = 640;
const FINE_POINTS = 2048;
/** An exact mains-locked trace would have no residual at all; samples aren't better than this share of them. */
const SMALLEST_RESIDUAL = 1e-9;

const MEAN_AND_DRIFT = 2;

/**
 * The mains frequency of a trace of at least about two periods: the one whose harmonics, a mean and a straight drift
 * leave the least squared residual, which is the maximum-likelihood estimate in white noise (Kay, Fundamentals of
 * Statistical Signal Processing: Estimation Theory, 7.10). A scan finds it, Gauss and Newton's steps refine it.
 */
export function findMains(trace: Trace, expectedHertz: number | null): MainsFrequency {
  const coarse = averaged(trace, COARSE_POINTS);
  const seconds = coarse.values.length * coarse.stepSeconds;
  const spacing = 1 / (8 * seconds);
  const first = scan(coarse, 2, LOWEST, HIGHEST, spacing, expectedHertz);
  const second = scan(coarse, harmonicsIn(coarse, 4), first - spacing, first + spacing, spacing / 8, null);
  return refine(averaged(trace, FINE_POINTS), second, spacing);
}

/** Means of as many neighbours as leave at most so many points. */
function averaged({ values, stepSeconds }: Trace, most: number): Trace {
  const block = Math.ceil(values.length / most);
  if (block === 1) return { values, stepSeconds };
  const means = new Float64Array(Math.floor(values.length / block));
  for (let at = 0; at < means.length; at += 1) {
    let sum = 0;
    for (let i = at * block; i < (at + 1) * block; i += 1) sum += values[i]!;
    means[at] = sum / block;
  }
  return { values: means, stepSeconds: stepSeconds * block };
}

/** As many harmonics as the sampling and the number of samples carry. */
function harmonicsIn({ values, stepSeconds }: Trace, most: number): number {
  const sampled = Math.floor(0.4 / (stepSeconds * HIGHEST));
  return Math.max(2, Math.min(most, sampled, Math.floor(values.length / 24)));
}

function scan(
  trace: Trace,
  harmonics: number,
  from: number,
  to: number,
  spacing: number,
  expectedHertz: number | null,
): number {
  let best = from;
  let most = -Infinity;
  for (let hertz = from; hertz <= to; hertz += spacing) {
    const unexpected = expectedHertz !== null && Math.abs(hertz / expectedHertz - 1) > NEAR_EXPECTED;
    const explained = fitAt(trace, hertz, harmonics).explained * (unexpected ? UNEXPECTED : 1);
    if (explained > most) {
      most = explained;
      best = hertz;
    }
  }
  return best;
}

interface Fit {
  readonly solution: Solution | null;
  /** Squared volts beyond what a mean alone explains. */
  readonly explained: number;
}

function fitAt({ values, stepSeconds }: Trace, hertz: number, harmonics: number): Fit {
  const size = MEAN_AND_DRIFT + 2 * harmonics;
  const equations = normalEquations(size);
  const row = new Float64Array(size);
  const middle = (values.length - 1) / 2;
  for (let i = 0; i < values.length; i += 1) {
    row[0] = 1;
    row[1] = (i - middle) / values.length;
    fillHarmonics(row, MEAN_AND_DRIFT, 2 * Math.PI * hertz * stepSeconds * (i - middle), harmonics);
    addRow(equations, row, values[i]!, 1);
  }
  const solution = solveNormal(equations);
  const total = equations.square - equations.right[0]! ** 2 / values.length;
  return { solution, explained: solution === null ? 0 : total - solution.residual };
}

function refine(trace: Trace, start: number, farthest: number): MainsFrequency {
  const { values, stepSeconds } = trace;
  const harmonics = harmonicsIn(trace, 10);
  const size = MEAN_AND_DRIFT + 2 * harmonics;
  let hertz = start;
  let deviation = Infinity;
  let found = fitAt(trace, hertz, harmonics);
  for (let round = 0; round < 6 && found.solution !== null; round += 1) {
    const step = newtonStep(trace, hertz, harmonics, found.solution);
    deviation = Math.sqrt(found.solution.residual / (values.length - size - 1) / step.information);
    hertz = Math.min(start + farthest, Math.max(start - farthest, hertz + step.hertz));
    found = fitAt(trace, hertz, harmonics);
    if (Math.abs(step.hertz) < 0.02 * deviation || Math.abs(step.hertz) < 1e-5) break;
  }
  const { solution, explained } = found;
  const residual = Math.max(solution?.residual ?? Infinity, SMALLEST_RESIDUAL * explained);
  const drift = (solution?.coefficients[1] ?? 0) / (values.length * stepSeconds);
  const ratio = explained / (size - 1) / (residual / (values.length - size));
  return { hertz, deviation, drift, ratio };
}

/** The frequency's own step of Gauss and Newton, what the other coefficients can take over taken out of it. */
function newtonStep(
  { values, stepSeconds }: Trace,
  hertz: number,
  harmonics: number,
  { coefficients, lower }: Solution,
): { hertz: number; information: number } {
  const size = coefficients.length;
  const row = new Float64Array(size);
  const shared = new Float64Array(size);
  const middle = (values.length - 1) / 2;
  let own = 0;
  let toward = 0;
  row[0] = 1;
  for (let i = 0; i < values.length; i += 1) {
    const seconds = (i - middle) * stepSeconds;
    row[1] = (i - middle) / values.length;
    fillHarmonics(row, MEAN_AND_DRIFT, 2 * Math.PI * hertz * seconds, harmonics);
    let residual = values[i]!;
    for (let k = 0; k < size; k += 1) residual -= coefficients[k]! * row[k]!;
    let slope = 0;
    for (let n = 1, k = MEAN_AND_DRIFT; n <= harmonics; n += 1, k += 2) {
      slope += n * (coefficients[k + 1]! * row[k]! - coefficients[k]! * row[k + 1]!);
    }
    slope *= 2 * Math.PI * seconds;
    own += slope * slope;
    toward += slope * residual;
    for (let k = 0; k < size; k += 1) shared[k]! += slope * row[k]!;
  }
  const taken = solveCholesky(lower, shared, size);
  let information = own;
  for (let k = 0; k < size; k += 1) information -= taken[k]! * shared[k]!;
  return { hertz: toward / information, information };
}

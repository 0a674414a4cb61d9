import { foldMains } from './fold.js';
import { clippingOf, levelsOf, type Levels } from './levels.js';
import { findMains, type MainsFrequency, type Trace } from './mains-frequency.js';
import { restOf } from './rest.js';
import { periodLikeness } from './likeness.js';
import type { CaptureScale, Resolution, RippleFound, RippleMissing } from './ripple.js';
import { mainsWaveform, type Waveform } from './waveform.js';

/** Hz: 50 and 60 Hz mains, and what a small generator makes of them. */
const SLOWEST = 46;
const FASTEST = 64;
/** Mains periods; a hair less than two so that a capture of exactly two counts. */
const PERIODS_NEEDED = 2;
const HAIR = 0.02;
/** A mains period; 12 in a half show where a charge begins and ends. */
const SAMPLES_NEEDED = 24;
/** F ratio of a fit to plain noise: above 4 in less than 1 of 1000 (Fisher's tables, many and more than 20 degrees). */
const STANDS_OUT = 6;
/** Correlation of odd and even mains periods. */
const ALIKE = 0.85;
const COARSE_STEPS = 20;

/**
 * The ripple on a capture of a rectified mains rail: everything locked to the mains and shaped by charging and
 * discharging the reservoir, apart from noise, switching bursts, ringing and drift. `samples` are counts or volts
 * (`scale` 1), evenly spaced. Pure; never throws for what a capture can hold.
 */
export function analyseRipple(samples: ArrayLike<number>, scale: CaptureScale): RippleFound | RippleMissing {
  if (scale.coupling === 'ground') return { kind: 'grounded' };
  const bad = notNumbers(samples, scale);
  if (bad !== null) return bad;
  const seconds = samples.length * scale.stepSeconds;
  if (seconds * FASTEST < PERIODS_NEEDED - HAIR) {
    return tooShort(seconds * (scale.expectedHertz ?? SLOWEST));
  }
  if (isTooSlow(scale, SLOWEST)) return tooSlow(scale, scale.expectedHertz ?? SLOWEST);
  const { trace, mean } = centred(samples, scale);
  const mains = findMains(trace, scale.expectedHertz);
  if (isTooSlow(scale, mains.hertz)) return tooSlow(scale, mains.hertz);
  if (!repeats(trace, mains)) return { kind: 'no-ripple', rms: rootMeanSquare(trace.values) };
  if (seconds * mains.hertz < PERIODS_NEEDED - HAIR) return tooShort(seconds * mains.hertz);
  const sign = scale.coupling !== 'dc' ? null : mean < 0 ? -1 : 1;
  const waveform = mainsWaveform(foldMains(trace, mains), sign);
  if (waveform === null) return { kind: 'no-ripple', rms: rootMeanSquare(trace.values) };
  return found(trace, mains, waveform, scale.coupling === 'dc' ? mean : null, levelsOf(samples), scale);
}

/** Whether there is a waveform that repeats with the mains, or else only noise or a wandering that happened to fit. */
function repeats(trace: Trace, mains: MainsFrequency): boolean {
  const isMains = mains.hertz > SLOWEST && mains.hertz < FASTEST;
  return isMains && mains.ratio > STANDS_OUT && periodLikeness(trace, mains) > ALIKE;
}

function tooShort(periods: number): RippleMissing {
  return { kind: 'too-short', periods, periodsNeeded: PERIODS_NEEDED };
}

function isTooSlow({ stepSeconds }: CaptureScale, hertz: number): boolean {
  return 1 / (stepSeconds * hertz) < SAMPLES_NEEDED;
}

function tooSlow({ stepSeconds }: CaptureScale, hertz: number): RippleMissing {
  return { kind: 'too-slow', samplesPerPeriod: 1 / (stepSeconds * hertz), samplesNeeded: SAMPLES_NEEDED };
}

function notNumbers(
  samples: ArrayLike<number>,
  { scale, offset, stepSeconds }: CaptureScale,
): RippleMissing | null {
  if (!(
    stepSeconds > 0 &&
    Number.isFinite(scale) &&
    Number.isFinite(offset) &&
    Number.isFinite(stepSeconds)
  )) {
    return { kind: 'not-numbers', at: null };
  }
  for (let at = 0; at < samples.length; at += 1) {
    if (!Number.isFinite(samples[at])) return { kind: 'not-numbers', at };
  }
  return null;
}

function centred(
  samples: ArrayLike<number>,
  { scale, offset, stepSeconds }: CaptureScale,
): { trace: Trace; mean: number } {
  const values = new Float64Array(samples.length);
  let sum = 0;
  for (let i = 0; i < values.length; i += 1) sum += samples[i]!;
  const middle = sum / values.length;
  for (let i = 0; i < values.length; i += 1) values[i] = (samples[i]! - middle) * scale;
  return { trace: { values, stepSeconds }, mean: middle * scale + offset };
}

function found(
  trace: Trace,
  mains: MainsFrequency,
  { table, halves }: Waveform,
  mean: number | null,
  levels: Levels | null,
  { scale }: CaptureScale,
): RippleFound {
  const shape = shapeOf(table);
  const { atMains, atTwiceMains } = shape;
  const peakToPeak = shape.high - shape.low;
  const resolution = resolutionOf(levels, scale, peakToPeak);
  return {
    kind: 'found',
    mainsHertz: mains.hertz,
    mainsHertzDeviation: mains.deviation,
    periods: trace.values.length * trace.stepSeconds * mains.hertz,
    peakToPeak,
    rms: shape.rms,
    mean: mean === null ? null : mean + shape.mean,
    valley: mean === null ? null : mean + (mean < 0 ? shape.high : shape.low),
    atMains,
    atTwiceMains,
    atFourTimesMains: shape.atFourTimesMains,
    strongest: atMains > atTwiceMains ? 'mains' : 'twice-mains',
    halves,
    rest: restOf(trace, mains, table, resolution.stepVolts ?? 0),
    resolution,
    clipped: levels && clippingOf(levels),
  };
}

function shapeOf(table: Float64Array) {
  const mean = table.reduce((sum, volts) => sum + volts, 0) / table.length;
  const amplitude = (n: number): number => {
    let cosine = 0;
    let sine = 0;
    table.forEach((volts, at) => {
      const angle = (2 * Math.PI * n * at) / table.length;
      cosine += volts * Math.cos(angle);
      sine += volts * Math.sin(angle);
    });
    return (2 / table.length) * Math.sqrt(cosine ** 2 + sine ** 2);
  };
  return {
    mean,
    low: Math.min(...table),
    high: Math.max(...table),
    rms: rootMeanSquare(table.map((volts) => volts - mean)),
    atMains: amplitude(1),
    atTwiceMains: amplitude(2),
    atFourTimesMains: amplitude(4),
  };
}

function rootMeanSquare(values: Float64Array): number {
  return Math.sqrt(values.reduce((sum, volts) => sum + volts * volts, 0) / values.length);
}

function resolutionOf(levels: Levels | null, scale: number, peakToPeak: number): Resolution {
  if (levels === null) return { stepVolts: null, stepsInRipple: null, coarse: false };
  const stepVolts = Math.abs(levels.step * scale);
  const stepsInRipple = peakToPeak / stepVolts;
  return { stepVolts, stepsInRipple, coarse: stepsInRipple < COARSE_STEPS };
}

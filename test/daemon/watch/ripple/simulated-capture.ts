import type { CaptureScale } from '../../../../daemon/watch/ripple/ripple.js';
import { normalNoise, uniformNoise } from '../random.js';

/**
 * Captures of a reservoir behind a rectifier, made without anything of the code under test: the circuit's current in
 * small time steps (explicit Euler) until it repeats, one period of it tabled, and what else is on a bench added at
 * the sample instants. All values from a seed.
 */
export interface SimulatedCapture {
  readonly counts: Int8Array | Int16Array;
  readonly scale: CaptureScale;
  readonly truth: CaptureTruth;
  readonly seed: number;
}

export interface CaptureTruth {
  readonly hertz: number;
  readonly peakToPeak: number;
  readonly rms: number;
  readonly valley: number;
  readonly mean: number;
  readonly missingHalf: boolean;
  readonly ringingHertz: number | null;
  readonly stepsInRipple: number;
}

export interface CaptureOptions {
  readonly missingHalf: boolean;
  readonly bits: 8 | 12;
  /** Noise RMS over the ripple's peak-to-peak. A sawtooth's own RMS is 0.29 of it. */
  readonly noise: number;
  readonly extra: 'none' | 'bursts' | 'oscillation';
  readonly points: number;
  readonly periods: number;
}

const STEPS = 4000;
const SETTLING_PERIODS = 60;

/** Volts over one mains period at STEPS phases. */
function settledPeriod(uniform: () => number, hertz: number, missingHalf: boolean): Float64Array {
  const peak = 14 + 30 * uniform();
  const load = 0.1 + 1.4 * uniform();
  const source = (0.03 + 0.1 * uniform()) * (peak / load) * 0.5;
  const droop = 0.04 + 0.08 * uniform();
  const farads = load / (2 * hertz) / (droop * peak);
  const esr = 0.02 + (0.15 * uniform() * droop * peak) / load;
  const step = 1 / hertz / STEPS;
  const period = new Float64Array(STEPS);
  let inside = peak - 2;
  for (let i = 0; i < STEPS * SETTLING_PERIODS; i += 1) {
    const sine = Math.sin((2 * Math.PI * i) / STEPS);
    const emf = peak * (missingHalf ? sine : Math.abs(sine)) - 1.4;
    // Node: (emf - v) / source + (inside - v) / esr = load while the diodes conduct.
    const conducting = (emf / source + inside / esr - load) / (1 / source + 1 / esr);
    const volts = emf > conducting ? conducting : inside - load * esr;
    inside -= (((inside - volts) / esr) * step) / farads;
    period[i % STEPS] = volts;
  }
  return period;
}

export function simulateCapture(seed: number, options: CaptureOptions): SimulatedCapture {
  const { missingHalf, bits, noise, extra, points, periods } = options;
  const uniform = uniformNoise(seed);
  const normal = normalNoise(seed + 1);
  const nominal = uniform() < 0.5 ? 50 : 60;
  const hertz = nominal * (0.99 + 0.02 * uniform());
  const period = settledPeriod(uniform, hertz, missingHalf);
  const [low, high] = [Math.min(...period), Math.max(...period)];
  const peakToPeak = high - low;
  const mean = period.reduce((sum, volts) => sum + volts, 0) / STEPS;
  const stepSeconds = periods / hertz / points;
  const offset = uniform();
  const nyquist = 0.5 / stepSeconds;
  const ringing = Math.max(
    (10 + 2 * uniform()) * nominal,
    Math.min(nyquist * (0.1 + 0.6 * uniform()), 40 * nominal * (1 + 9 * uniform())),
  );
  const repeats = ringing * (0.02 + 0.1 * uniform());
  const extraHeight = peakToPeak * (0.1 + 0.3 * uniform());
  const coupled = uniform() < 0.5 ? 'ac' : 'dc';
  const volts = Float64Array.from({ length: points }, (_, i) => {
    const seconds = i * stepSeconds;
    const along = ((seconds * hertz + offset) % 1) * STEPS;
    const place = Math.floor(along);
    const next = period[(place + 1) % STEPS]!;
    const ripple = period[place]! + (along - place) * (next - period[place]!);
    const sinceBurst = (seconds % (1 / repeats)) * ringing;
    const added =
      extra === 'oscillation'
        ? Math.sin(2 * Math.PI * ringing * seconds)
        : extra === 'bursts'
          ? Math.exp(-sinceBurst / 4) * Math.sin(2 * Math.PI * sinceBurst)
          : 0;
    return ripple - (coupled === 'ac' ? mean : 0) + extraHeight * added + noise * peakToPeak * normal();
  });
  const [least, most] = [Math.min(...volts), Math.max(...volts)];
  const zero = (least + most) / 2;
  const scale = ((most - least) * (1.05 + 2.5 * uniform())) / 2 ** bits;
  const rounded = volts.map((v) => Math.round((v - zero) / scale));
  const counts = bits === 8 ? Int8Array.from(rounded) : Int16Array.from(rounded);
  return {
    counts,
    scale: {
      scale,
      offset: zero,
      stepSeconds,
      coupling: coupled,
      expectedHertz: uniform() < 0.5 ? nominal : null,
    },
    truth: {
      hertz,
      peakToPeak,
      rms: Math.sqrt(period.reduce((sum, v) => sum + (v - mean) ** 2, 0) / STEPS),
      valley: low,
      mean,
      missingHalf,
      ringingHertz: extra === 'none' ? null : ringing,
      stepsInRipple: peakToPeak / scale,
    },
    seed,
  };
}

/** A capture of the kind that number `seed` says: every mix of fault, bits and extras comes round in 12. */
export function mixedCapture(seed: number): { options: CaptureOptions; capture: SimulatedCapture } {
  const uniform = uniformNoise(1000 + seed);
  const points = Math.round(500 * 200 ** uniform());
  const options: CaptureOptions = {
    missingHalf: seed % 2 === 1,
    bits: seed % 4 < 2 ? 8 : 12,
    extra: (['none', 'bursts', 'oscillation'] as const)[seed % 3]!,
    noise: (points < 5000 ? 0.09 : 0.3) * uniform(),
    points,
    periods: 2 + 18 * uniform(),
  };
  return { options, capture: simulateCapture(seed, options) };
}

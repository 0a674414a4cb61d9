import type { LowPass } from './low-pass.js';
import type { PeriodicWaveform } from './periodic-waveform.js';

/** kT/q at 27 °C, V. */
const THERMAL_VOLTS = 0.025852;
/** Gain of a small transistor run backwards; a few, from memory. The rail moves 20 mV if it is 1 or 20. */
const REVERSE_BETA = 4;
const TOLERANCE_VOLTS = 1e-8;
const MOST_TURNS = 60;
/** e^−25 of what matters is 1e-11 of it. */
const NEGLIGIBLE = -25;

/** The base-collector junction of a bipolar follower, as it takes charge out of the base capacitor. */
export interface CollectorJunction {
  /** Logarithm of (junction's saturation current / base capacitance), V/s. */
  readonly logRate: number;
  /** From base to emitter while the collector carries the load, V. */
  readonly baseEmitterVolts: number;
  /** ln(1 + 1/β). */
  readonly logAlpha: number;
}

/**
 * The transport form of the two-junction transistor (Ebers and Moll 1954, Gummel and Poon 1970):
 * emitter current Is(x − y) + Is·x/β and base current Is·x/β + Is·y/βr, x and y the exponentials of the
 * base-emitter and base-collector volts. At a given emitter current x follows from y, and the base takes
 * I/(β + 1) + Is·y(1/(β + 1) + 1/βr): a constant and one diode from base to collector. `Is` is chosen so
 * that the load's current needs `baseEmitterVolts` while y is negligible.
 */
export function collectorJunction(
  amps: number,
  beta: number,
  baseEmitterVolts: number,
  capacitance: number,
): CollectorJunction {
  const leak = (1 / (beta + 1) + 1 / REVERSE_BETA) * (beta / (beta + 1));
  return {
    logRate: Math.log((amps * leak) / capacitance) - baseEmitterVolts / THERMAL_VOLTS,
    baseEmitterVolts,
    logAlpha: Math.log1p(1 / beta),
  };
}

/** Volts from base to emitter when the base stands `forward` volts above the collector. */
export function emitterDrop(junction: CollectorJunction, forward: number): number {
  const { baseEmitterVolts, logAlpha } = junction;
  const excess = (forward - baseEmitterVolts) / THERMAL_VOLTS - logAlpha;
  if (excess < NEGLIGIBLE) return baseEmitterVolts;
  return baseEmitterVolts + THERMAL_VOLTS * softplus(excess);
}

/**
 * The periodic base voltage with the junction's current taken out. `base` holds the free answer before.
 *
 * The turn's map from start to end rises, is concave and contracts, so Newton from the free answer (which
 * lies above) comes down to its fixed point; the slope is carried along with the turn.
 * Throws when it doesn't settle, which a base time constant well above the sample spacing rules out.
 */
export function drainThroughJunction(
  wave: PeriodicWaveform,
  filter: LowPass,
  junction: CollectorJunction,
  base: Float64Array,
): void {
  if (neverConducts(wave, junction, base)) return;
  let start = base[0]!;
  const end = { volts: 0, slope: 0 };
  for (let turn = 0; turn < MOST_TURNS; turn++) {
    junctionTurn(wave, filter, junction, base, start, end);
    const miss = end.volts - start;
    if (Math.abs(miss) < TOLERANCE_VOLTS * (1 + end.slope)) return;
    start += miss / (1 - Math.min(end.slope, 0.999999));
  }
  throw new Error(
    `the follower's base finds no steady state: time constant ${filter.timeConstant} s, period ${wave.period} s, ` +
      `junction ${JSON.stringify(junction)}; use a larger base capacitor or more samples`,
  );
}

/** Whether the junction would take less than a negligible voltage in a whole period. */
function neverConducts(wave: PeriodicWaveform, junction: CollectorJunction, base: Float64Array): boolean {
  let most = -Infinity;
  for (let k = 0; k < base.length; k++) {
    const forward = base[k]! - wave.volts[k]!;
    if (forward > most) most = forward;
  }
  return junction.logRate + Math.log(wave.period / THERMAL_VOLTS) + most / THERMAL_VOLTS < NEGLIGIBLE;
}

/**
 * One turn from `start`; `end` gets where it leads and how much of a change of start is left there. Within a segment the free low pass gives the rate at which w = base − collector would move;
 * with that rate held, dw/dt = rate − K·e^(w/Vt) is a Bernoulli equation:
 * w₁ = w₀ + rate·h − Vt·ln(1 + (K·h/Vt)·e^(w₀/Vt)·(e^d − 1)/d) with d = rate·h/Vt. Stable for any step.
 */
function junctionTurn(
  wave: PeriodicWaveform,
  filter: LowPass,
  junction: CollectorJunction,
  base: Float64Array,
  start: number,
  end: { volts: number; slope: number },
): void {
  const { volts, spacings } = wave;
  const { timeConstant, gain, offset } = filter;
  const count = volts.length;
  let spacing = -1;
  let keep = 0;
  let lag = 0;
  let logStep = 0;
  let value = start;
  let slope = 1;
  let source = volts[0]!;
  let target = gain * source + offset;
  for (let k = 0; k < count; k++) {
    base[k] = value;
    if (spacings[k] !== spacing) {
      spacing = spacings[k]!;
      keep = Math.exp(-spacing / timeConstant);
      lag = (-Math.expm1(-spacing / timeConstant) * timeConstant) / spacing;
      logStep = junction.logRate + Math.log(spacing / THERMAL_VOLTS);
    }
    const nextSource = volts[k + 1 < count ? k + 1 : 0]!;
    const next = gain * nextSource + offset;
    const free = next + keep * (value - target) - (next - target) * lag;
    const before = (value - source) / THERMAL_VOLTS;
    const after = (free - nextSource) / THERMAL_VOLTS;
    let strength = logStep + (before > after ? before : after);
    value = free;
    slope *= keep;
    if (strength > NEGLIGIBLE) {
      const distance = Math.abs(after - before);
      if (distance > 1e-9) strength += Math.log(-Math.expm1(-distance) / distance);
      const fall = softplus(strength);
      value -= THERMAL_VOLTS * fall;
      slope *= Math.exp(-fall);
    }
    source = nextSource;
    target = next;
  }
  end.volts = value;
  end.slope = slope;
}

/** ln(1 + e^x) without overflow. */
function softplus(x: number): number {
  return x > 35 ? x : Math.log1p(Math.exp(x));
}

import type { PeriodicWaveform } from './periodic-waveform.js';

/** A first-order low pass: τ·dx/dt = gain·v + offset − x, with v the waveform that feeds it. */
export interface LowPass {
  /** τ, s; 0 follows at once. */
  timeConstant: number;
  gain: number;
  /** V. */
  offset: number;
}

/**
 * Fills `output` with the periodic answer of a low pass to a waveform that is linear between its samples.
 * Exact at the samples: over a segment of length h in which the target runs from u₀ to u₁,
 * x₁ = u₁ + e^(−h/τ)(x₀ − u₀) − (u₁ − u₀)(1 − e^(−h/τ))τ/h (variation of constants), and what is
 * missing from periodicity after one turn decays by e^(−T/τ) a turn.
 */
export function periodicLowPass(wave: PeriodicWaveform, filter: LowPass, output: Float64Array): void {
  const middle = filter.gain * meanOf(wave) + filter.offset;
  const after = oneTurn(wave, filter, output, middle, Infinity);
  const forgotten = filter.timeConstant > 0 ? -Math.expm1(-wave.period / filter.timeConstant) : 1;
  oneTurn(wave, filter, output, middle + (after - middle) / forgotten, Infinity);
}

/**
 * The same with the output held at or below v + `clearance`. `output` holds the free periodic answer before.
 *
 * One turn maps its start x to min(a·x + b, d), for each step is a rising straight line cut by a ceiling. From
 * the free answer x* = b/(1 − a) one turn therefore ends at min(x*, d): the periodic start, with no search.
 */
export function holdBelow(
  wave: PeriodicWaveform,
  filter: LowPass,
  clearance: number,
  output: Float64Array,
): void {
  const start = oneTurn(wave, filter, output, output[0]!, clearance);
  oneTurn(wave, filter, output, start, clearance);
}

/** Writes one turn that starts from `start` at the first sample; returns the value one period later. */
function oneTurn(
  wave: PeriodicWaveform,
  filter: LowPass,
  output: Float64Array,
  start: number,
  clearance: number,
): number {
  const { volts, spacings } = wave;
  const { timeConstant, gain, offset } = filter;
  const count = volts.length;
  let spacing = -1;
  let keep = 0;
  let lag = 0;
  let value = Math.min(start, volts[0]! + clearance);
  let target = gain * volts[0]! + offset;
  for (let k = 0; k < count; k++) {
    output[k] = value;
    if (spacings[k] !== spacing) {
      spacing = spacings[k]!;
      keep = timeConstant > 0 ? Math.exp(-spacing / timeConstant) : 0;
      lag = timeConstant > 0 ? (-Math.expm1(-spacing / timeConstant) * timeConstant) / spacing : 0;
    }
    const source = volts[k + 1 < count ? k + 1 : 0]!;
    const next = gain * source + offset;
    value = next + keep * (value - target) - (next - target) * lag;
    if (value > source + clearance) value = source + clearance;
    target = next;
  }
  return value;
}

function meanOf(wave: PeriodicWaveform): number {
  const { volts, spacings, period } = wave;
  let area = 0;
  let from = volts[volts.length - 1]!;
  let spacing = spacings[volts.length - 1]!;
  for (let k = 0; k < volts.length; k++) {
    const to = volts[k]!;
    area += spacing * (from + to);
    from = to;
    spacing = spacings[k]!;
  }
  return area / (2 * period);
}

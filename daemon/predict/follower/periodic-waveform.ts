/** One period of a voltage that repeats for ever, linear between its samples. */
export interface PeriodicWaveform {
  /** The voltage at each sample, V; the first sample follows the last. */
  readonly volts: Float64Array;
  /** Time from each sample to the next, s; the last entry leads back to the first. All above zero. */
  readonly spacings: Float64Array;
  /** Sum of the spacings, s. */
  readonly period: number;
}

/** What a meter and a scope would say of a periodic waveform. */
export interface WaveformFigures {
  meanVolts: number;
  valleyVolts: number;
  peakVolts: number;
  /** Peak to peak, V. */
  ripplePeakToPeak: number;
  /** RMS of the alternating part, V. */
  rippleRms: number;
}

/** A waveform from samples at equal distances over one period of `period` seconds. */
export function evenWaveform(volts: Float64Array, period: number): PeriodicWaveform {
  if (volts.length < 2 || !(period > 0)) {
    throw new RangeError(
      `a periodic waveform needs two samples or more and a period above 0 s; it got ${volts.length} samples and ${period} s`,
    );
  }
  return { volts, period, spacings: new Float64Array(volts.length).fill(period / volts.length) };
}

/** A waveform from samples at rising instants in [0, period), s: put the valley and the peak among them. */
export function waveformAt(instants: Float64Array, volts: Float64Array, period: number): PeriodicWaveform {
  const count = volts.length;
  const spacings = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    spacings[k] = (k + 1 < count ? instants[k + 1]! : instants[0]! + period) - instants[k]!;
    if (!(spacings[k]! > 0)) {
      throw new RangeError(`instants of a waveform must rise within one period: look at sample ${k}`);
    }
  }
  return { volts, spacings, period };
}

/**
 * Puts the exact valley and peak (V) in place of the lowest and highest sample. Even samples miss the valley's corner by
 * up to half a spacing, and what drops out there feels it: 11 % of a MOSFET follower's ripple at 64 samples.
 */
export function pinExtremes(volts: Float64Array, valleyVolts: number, peakVolts: number): void {
  let lowest = 0;
  let highest = 0;
  for (let k = 1; k < volts.length; k++) {
    if (volts[k]! < volts[lowest]!) lowest = k;
    if (volts[k]! > volts[highest]!) highest = k;
  }
  volts[lowest] = valleyVolts;
  volts[highest] = peakVolts;
}

export function emptyWaveformFigures(): WaveformFigures {
  return { meanVolts: 0, valleyVolts: 0, peakVolts: 0, ripplePeakToPeak: 0, rippleRms: 0 };
}

/**
 * Fills `figures` with the exact figures of the piecewise-linear waveform that runs through `volts`:
 * the integral of a segment from a to b is h(a + b)/2, of its square h(a² + ab + b²)/3.
 */
export function measureWaveform(volts: Float64Array, spacings: Float64Array, figures: WaveformFigures): void {
  const count = volts.length;
  const origin = volts[0]!;
  let low = origin;
  let high = origin;
  let area = 0;
  let squares = 0;
  let period = 0;
  let from = volts[count - 1]! - origin;
  for (let k = 0; k < count; k++) {
    const value = volts[k]!;
    const to = value - origin;
    const spacing = spacings[k === 0 ? count - 1 : k - 1]!;
    area += spacing * (from + to);
    squares += spacing * (from * from + from * to + to * to);
    period += spacing;
    if (value < low) low = value;
    else if (value > high) high = value;
    from = to;
  }
  const mean = area / (2 * period);
  figures.meanVolts = origin + mean;
  figures.valleyVolts = low;
  figures.peakVolts = high;
  figures.ripplePeakToPeak = high - low;
  figures.rippleRms = Math.sqrt(Math.max(0, squares / (3 * period) - mean * mean));
}

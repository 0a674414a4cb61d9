import { emptyWaveformFigures, measureWaveform } from '../follower/periodic-waveform.js';
import type { PeriodicWaveform, WaveformFigures } from '../follower/periodic-waveform.js';

/**
 * What a linear regulator makes of its input; volts without sign, so negative rails are turned at the edge.
 * out = min(set + feedthrough·(in − mean in), in − dropout), and never below zero.
 */
export interface RailLaw {
  /** V. */
  setVolts: number;
  /** Share of the input's ripple that reaches the output while regulating. */
  feedthrough: number;
  /** V, at the rail's current and temperature. */
  dropoutVolts: number;
  /** Taken from the input and not passed on, A. */
  quiescentAmps: number;
}

export interface RailFigures extends WaveformFigures {
  /** Least input minus dropout minus set volts, V; negative when the rail dips. */
  headroom: number;
  /** Share of the period in dropout. */
  dropoutFraction: number;
  /** Heat in the regulator, W. */
  dissipation: number;
  /** Mean current drawn from the input, A. */
  inputAmps: number;
}

export function emptyRailFigures(): RailFigures {
  return { ...emptyWaveformFigures(), headroom: 0, dropoutFraction: 0, dissipation: 0, inputAmps: 0 };
}

/**
 * A linear regulator's output over one period of its input at a constant load current (A), left in `output`
 * and `figures`. Heat is mean((in − out)·I) + mean(in)·Iq. The current is drawn in dropout too.
 */
export function solveRail(
  input: PeriodicWaveform,
  law: RailLaw,
  amps: number,
  output: Float64Array,
  figures: RailFigures,
): void {
  const { volts, spacings } = input;
  measureWaveform(volts, spacings, figures);
  const meanInput = figures.meanVolts;
  figures.headroom = figures.valleyVolts - law.dropoutVolts - law.setVolts;
  for (let k = 0; k < output.length; k++) {
    const held = law.setVolts + law.feedthrough * (volts[k]! - meanInput);
    const available = volts[k]! - law.dropoutVolts;
    const lower = held < available ? held : available;
    output[k] = lower > 0 ? lower : 0;
  }
  measureWaveform(output, spacings, figures);
  figures.dropoutFraction = fractionInDropout(input, law, meanInput);
  figures.dissipation = (meanInput - figures.meanVolts) * amps + meanInput * law.quiescentAmps;
  figures.inputAmps = amps + law.quiescentAmps;
}

/** Share of the period in which the input, straight between samples, leaves too little for the set volts. */
function fractionInDropout(input: PeriodicWaveform, law: RailLaw, meanInput: number): number {
  const { volts, spacings, period } = input;
  const slope = 1 - law.feedthrough;
  const shift = law.feedthrough * meanInput - law.setVolts - law.dropoutVolts;
  let time = 0;
  let from = slope * volts[volts.length - 1]! + shift;
  for (let k = 0; k < volts.length; k++) {
    const to = slope * volts[k]! + shift;
    const spacing = spacings[k === 0 ? volts.length - 1 : k - 1]!;
    if (from < 0 && to < 0) time += spacing;
    else if (from < 0 || to < 0)
      time += (spacing * Math.min(from, to)) / (Math.min(from, to) - Math.max(from, to));
    from = to;
  }
  return time / period;
}

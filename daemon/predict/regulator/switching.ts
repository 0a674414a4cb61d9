import { measureWaveform } from '../follower/periodic-waveform.js';
import type { PeriodicWaveform } from '../follower/periodic-waveform.js';
import { solveRail } from './rail.js';
import type { RailFigures } from './rail.js';

/** A switching module as its label and its efficiency curve describe it. */
export interface SwitchingModule {
  readonly setVolts: number;
  /** Least input minus output, V. */
  readonly dropoutVolts: number;
  /** Share of the input's ripple that reaches the output. */
  readonly feedthrough: number;
  /** Efficiency at rising load currents; straight between points, held flat beyond them. */
  readonly efficiency: readonly EfficiencyPoint[];
  /** Drawn from the input at no load, A. */
  readonly idleAmps: number;
}

export interface EfficiencyPoint {
  readonly amps: number;
  /** Output power over input power, above 0 and at most 1. */
  readonly share: number;
}

/** Efficiency at a load current (A). Throws a RangeError where the curve is empty or not rising in amps. */
export function efficiencyAt(curve: readonly EfficiencyPoint[], amps: number): number {
  checkCurve(curve);
  const after = curve.findIndex((point) => point.amps >= amps);
  const upper = curve[after < 0 ? curve.length - 1 : after]!;
  if (after <= 0) return upper.share;
  const lower = curve[after - 1]!;
  return lower.share + ((upper.share - lower.share) * (amps - lower.amps)) / (upper.amps - lower.amps);
}

function checkCurve(curve: readonly EfficiencyPoint[]): void {
  const rises = curve.every((point, k) => k === 0 || point.amps > curve[k - 1]!.amps);
  const sane = curve.every((point) => point.share > 0 && point.share <= 1);
  if (curve.length === 0 || !rises || !sane) {
    throw new RangeError(
      'an efficiency curve needs one point or more, amps rising, each share above 0 and at most 1; ' +
        `it is ${JSON.stringify(curve)}`,
    );
  }
}

/**
 * A switching module's output, heat and input current. It draws a constant power, so that its input current rises as
 * the input falls; `inputAmps` is the constant current that draws it at the mean input: Pout/(efficiency·mean in).
 * Efficiency is output over all that goes in (its definition), so the idle current is in it already, and counts by
 * itself only where the curve's first point tells too little of a small load.
 */
export function solveSwitchingRail(
  input: PeriodicWaveform,
  module: SwitchingModule,
  amps: number,
  output: Float64Array,
  figures: RailFigures,
): void {
  measureWaveform(input.volts, input.spacings, figures);
  const meanInput = figures.meanVolts;
  const { setVolts, feedthrough, dropoutVolts, idleAmps } = module;
  solveRail(input, { setVolts, feedthrough, dropoutVolts, quiescentAmps: 0 }, amps, output, figures);
  const delivered = figures.meanVolts * amps;
  const lost = (1 / efficiencyAt(module.efficiency, amps) - 1) * delivered;
  figures.dissipation = Math.max(lost, meanInput * idleAmps);
  figures.inputAmps = meanInput > 0 ? (delivered + figures.dissipation) / meanInput : 0;
}

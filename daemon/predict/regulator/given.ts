import type { RailFigures } from './rail.js';

/** A rail whose volts are given because its regulator isn't modelled: what the person says it is, and no heat known. */
export function givenRail(
  volts: number,
  ripplePeakToPeak: number,
  amps: number,
  output: Float64Array,
  figures: RailFigures,
): void {
  output.fill(volts);
  figures.meanVolts = volts;
  figures.valleyVolts = volts - ripplePeakToPeak / 2;
  figures.peakVolts = volts + ripplePeakToPeak / 2;
  figures.ripplePeakToPeak = ripplePeakToPeak;
  figures.rippleRms = ripplePeakToPeak / (2 * Math.sqrt(3));
  figures.headroom = Infinity;
  figures.dropoutFraction = 0;
  figures.dissipation = 0;
  figures.inputAmps = amps;
}

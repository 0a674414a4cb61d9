import type { PointUnit } from '../../predict/prediction.js';

/**
 * How far a settled reading may be off what a right model of the very supply says, as a standard deviation: a share
 * of the value and a least amount. Wave shape of the mains, draughts, what a probe takes away (common practice).
 */
const MODEL_DOUBT: Readonly<Record<PointUnit, { readonly share: number; readonly least: number }>> = {
  V: { share: 0.004, least: 0.01 },
  Vrms: { share: 0.05, least: 0.0005 },
  Vpp: { share: 0.05, least: 0.0005 },
  A: { share: 0.02, least: 0.002 },
  Arms: { share: 0.04, least: 0.01 },
  ohm: { share: 0.01, least: 0.01 },
  degC: { share: 0.02, least: 1 },
  Hz: { share: 0, least: 0.5 },
  W: { share: 0.03, least: 0.01 },
};

export function modelDoubt(value: number, unit: PointUnit): number {
  const { share, least } = MODEL_DOUBT[unit];
  return Math.hypot(share * value, least);
}

/** Where a point's healthy values lie, in its unit. */
export interface Scale {
  readonly middle: number;
  /** Above 0. */
  readonly spread: number;
}

/** Within this many healthy spreads the scale is near linear, beyond near logarithmic. */
const LINEAR_SPREADS = 3;

/** A value on a scale on which both the healthy cloud and one ten times as far off have a width of the order of 1. */
export function scaled(value: number, { middle, spread }: Scale): number {
  return LINEAR_SPREADS * Math.asinh((value - middle) / (LINEAR_SPREADS * spread));
}

/** What a small amount in the point's unit is on the scale, there. */
export function scaledAmount(amount: number, at: number, { middle, spread }: Scale): number {
  return amount / spread / Math.hypot(1, (at - middle) / (LINEAR_SPREADS * spread));
}

/** The value again, in the point's unit. */
export function unscaled(scaledValue: number, { middle, spread }: Scale): number {
  return middle + LINEAR_SPREADS * spread * Math.sinh(scaledValue / LINEAR_SPREADS);
}

import { adjustedVolts } from '../design/parts/regulators.js';

/** What sets a rail's volts. */
export interface RailSetting {
  /** Reference of an adjustable regulator, output of a fixed one, V. */
  readonly volts: number;
  /** Absent for a fixed regulator. */
  readonly divider?: { readonly r1: number; readonly r2: number; readonly adjustAmps: number };
}

/** Volts that a regulator holds while its input suffices: Vref (1 + R2/R1) + Iadj R2 (TI SLVS044Z), or its fixed output. */
export function settingVolts({ volts, divider }: RailSetting): number {
  return divider ? adjustedVolts(volts, divider.r1, divider.r2, divider.adjustAmps) : volts;
}

/**
 * Dropout at a current, V. From memory of makers' curves: three quarters of the figure at the rated current
 * remain at none.
 */
export function dropoutAt(amps: number, dropoutVolts: number, atAmps: number): number {
  return dropoutVolts * (0.75 + (0.25 * amps) / atAmps);
}

/**
 * Mean of a rail whose regulator passes its input less the dropout wherever that is less than the setting, V.
 * The input is taken as climbing and falling evenly between valley and peak.
 */
export function railMean(setting: number, valley: number, peak: number, dropout: number): number {
  const bottom = Math.max(0, valley - dropout);
  const top = Math.max(0, peak - dropout);
  if (bottom >= setting) return setting;
  if (top <= setting) return (bottom + top) / 2;
  const below = (setting - bottom) / (top - bottom);
  return below * ((bottom + setting) / 2) + (1 - below) * setting;
}

/** Ripple of a rail, V peak to peak: the input's by the rejection in dB, and the dips where the input doesn't suffice. */
export function railRipple(
  setting: number,
  raw: { readonly valley: number; readonly peak: number; readonly ripple: number },
  dropout: number,
  rejection_dB: number,
): number {
  const top = Math.min(setting, Math.max(0, raw.peak - dropout));
  const bottom = Math.min(setting, Math.max(0, raw.valley - dropout));
  return top - bottom + raw.ripple * 10 ** (-rejection_dB / 20);
}

/** Volts at the input of a regulator over a cycle. */
export interface InputVolts {
  readonly mean: number;
  readonly valley: number;
  readonly peak: number;
  /** Peak to peak. */
  readonly ripple: number;
}

/** What is left of a source after a series resistor: a regulator's current is steady, so only the level falls. */
export function behindResistor(source: InputVolts, amps: number, ohms: number): InputVolts {
  const drop = amps * ohms;
  return {
    mean: Math.max(0, source.mean - drop),
    valley: Math.max(0, source.valley - drop),
    peak: Math.max(0, source.peak - drop),
    ripple: source.ripple,
  };
}

/** A rail as the source of another one: what ripple it has lies evenly around its mean, but for its dips. */
export function asSource(volts: number, ripple: number, setting: number): InputVolts {
  const peak = Math.min(Math.max(setting, volts), volts + ripple / 2);
  return { mean: volts, valley: Math.max(0, peak - ripple), peak, ripple };
}

/**
 * Rejection of an adjustable regulator at its output volts, dB. Without an adjust capacitor the reference's ripple is
 * multiplied with the output (1 + R2/R1), so the makers' figure at `atVolts` falls by 20 log(Vout / atVolts).
 */
export function rejectionAt(outputVolts: number, rejection_dB: number, atVolts: number): number {
  return rejection_dB - 20 * Math.log10(outputVolts / atVolts);
}

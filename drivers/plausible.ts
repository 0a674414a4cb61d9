import type { Measurand } from './driver.js';

export interface ValueRange {
  readonly low: number;
  readonly high: number;
}

/**
 * The values that a bench instrument could show for each measurand, in its unit. What lies outside came from a
 * broken frame or a broken sensor. Wide on purpose: this is no check of the supply. Common practice: handheld and
 * bench meters end at 1000 V, 20 A and 1 Gohm; -273.15 degC is absolute zero (BIPM, SI brochure).
 */
export const PLAUSIBLE: Readonly<Record<Measurand, ValueRange>> = {
  'dc-volts': { low: -10_000, high: 10_000 },
  'ac-volts': { low: -1, high: 10_000 },
  'dc-amps': { low: -1000, high: 1000 },
  'ac-amps': { low: -1, high: 1000 },
  ohms: { low: -1000, high: 1e12 },
  temperature: { low: -273.15, high: 3000 },
  frequency: { low: 0, high: 1e12 },
};

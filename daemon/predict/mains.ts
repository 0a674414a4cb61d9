import type { Design } from '../design/design.js';
import type { Spread } from '../design/parts/spread.js';

/** Percent below and above the nominal volts that hold 95 % of the time. */
const PRESETS = {
  // EN 50160: 95 % of each week's 10-minute means within 10 %.
  'EN 50160': { low_percent: -10, high_percent: 10 },
  // ANSI C84.1 Range B service at 120 V: 110 to 127 V (from memory).
  'ANSI C84.1': { low_percent: -8.3, high_percent: 5.8 },
} as const;

/** What a hand meter adds to a measured mains, and how far it wanders meanwhile, as a share (from memory). */
const MEASURED_DOUBT = 0.015;

/** Mains volts RMS: the design's with its tolerance, or what the person measured. */
export function mainsVolts(mains: Design['mains'], measured?: number): Spread {
  if (measured !== undefined) {
    return { low: measured * (1 - MEASURED_DOUBT), typical: measured, high: measured * (1 + MEASURED_DOUBT) };
  }
  const { low_percent, high_percent } =
    typeof mains.tolerance === 'string' ? PRESETS[mains.tolerance] : mains.tolerance;
  return {
    low: mains.volts * (1 + low_percent / 100),
    typical: mains.volts,
    high: mains.volts * (1 + high_percent / 100),
  };
}

import type { ThermocoupleType } from './thermocouple-tables.js';

/** The larger of `kelvin` and `share` of the temperature in degrees C. */
interface ThermocoupleClass {
  readonly kelvin: number;
  readonly share: number;
}

/** IEC 60584-1:2013, tolerance classes at -40 degrees C and above (values from memory). */
export const THERMOCOUPLE_CLASSES: Readonly<
  Record<ThermocoupleType, Readonly<Record<string, ThermocoupleClass>>>
> = {
  K: { 1: { kelvin: 1.5, share: 0.004 }, 2: { kelvin: 2.5, share: 0.0075 } },
  J: { 1: { kelvin: 1.5, share: 0.004 }, 2: { kelvin: 2.5, share: 0.0075 } },
  T: { 1: { kelvin: 0.5, share: 0.004 }, 2: { kelvin: 1, share: 0.0075 } },
};

/** `kelvin` and `share` of the temperature in degrees C together. */
interface PlatinumClass {
  readonly kelvin: number;
  readonly share: number;
}

/** IEC 60751: 2022 for AA and C (from memory), tolerance sheet for A and B. */
export const PLATINUM_CLASSES: Readonly<Record<string, PlatinumClass>> = {
  AA: { kelvin: 0.1, share: 0.0017 },
  A: { kelvin: 0.15, share: 0.002 },
  B: { kelvin: 0.3, share: 0.005 },
  C: { kelvin: 0.6, share: 0.01 },
};

import { NONE, SILICON, type Regulator } from './regulator.js';
import type { Spread } from './spread.js';

/** Low-drop parts; every figure from memory of several makers' sheets. */
const QUASI = { polarity: 'positive', family: 'low-drop', ...SILICON } as const;

/** Adjustables with a driver on a saturating stage: 1.25 V between output and adjust. */
const ADJUSTABLE = {
  ...QUASI,
  kind: 'adjustable',
  volts: { low: 1.225, typical: 1.25, high: 1.27 },
  adjustAmps: { low: 40e-6, typical: 60e-6, high: 120e-6 },
  quiescentAmps: NONE,
  rippleRejection_dB: { low: 55, typical: 65, high: 75, atVolts: 3 },
  rippleRejectionWithCapacitor_dB: { low: 60, typical: 73, high: 80 },
} as const;

function largeAdjustable(name: string, amps: number, limit: number): Regulator {
  return {
    ...ADJUSTABLE,
    name,
    dropout: { low: 1.1, typical: 1.3, high: 1.5, atAmps: amps },
    minimumLoad: { low: 1e-3, typical: 5e-3, high: 10e-3 },
    ratedAmps: amps,
    currentLimit: [
      { difference: 5, amps: limit },
      { difference: 25, amps: 0.1 * limit },
    ],
    highestDifference: 29,
    packages: ['TO-220', 'TO-263'],
  };
}

/** 0.8 A in small cases: adjustable, and with fixed outputs. */
const SMALL = {
  dropout: { low: 1, typical: 1.15, high: 1.3, atAmps: 0.8 },
  ratedAmps: 0.8,
  currentLimit: [{ difference: 5, amps: 1.2 }],
  highestInput: 20,
  packages: ['TO-220', 'TO-252', 'SOT-223'],
} as const;

function smallFixed(name: string, volts: Spread): Regulator {
  return {
    ...QUASI,
    ...SMALL,
    name,
    kind: 'fixed',
    volts,
    adjustAmps: NONE,
    rippleRejection_dB: { low: 60, typical: 68, high: 75, atVolts: volts.typical },
    minimumLoad: { low: 0, typical: 0, high: 5e-3 },
    quiescentAmps: { low: 3e-3, typical: 5e-3, high: 10e-3 },
  };
}

/** A single saturating transistor: half a volt at 1 A, a ground current that grows with the load. */
function oneJunction(output: number): Regulator {
  return {
    ...QUASI,
    name: `LM2940-${output}`,
    kind: 'fixed',
    volts: { low: output * 0.95, typical: output, high: output * 1.05 },
    adjustAmps: NONE,
    dropout: { low: 0.35, typical: 0.5, high: 1, atAmps: 1 },
    rippleRejection_dB: { low: 52, typical: 66, high: 72, atVolts: output },
    minimumLoad: { low: 0, typical: 0, high: 5e-3 },
    // 10 to 15 mA with little load, 30 to 45 mA at 1 A.
    quiescentAmps: { low: 10e-3, typical: 20e-3, high: 45e-3 },
    ratedAmps: 1,
    currentLimit: [{ difference: 5, amps: 1.9 }],
    highestInput: 26,
    packages: ['TO-220', 'TO-263', 'SOT-223'],
  };
}

export const LOW_DROP_REGULATORS: readonly Regulator[] = [
  largeAdjustable('LM1084', 5, 8),
  largeAdjustable('LM1085', 3, 5.5),
  largeAdjustable('LM1086', 1.5, 2.7),
  {
    ...ADJUSTABLE,
    ...SMALL,
    name: 'LM1117',
    minimumLoad: { low: 0.8e-3, typical: 1.7e-3, high: 5e-3 },
  },
  smallFixed('LM1117-3.3', { low: 3.235, typical: 3.3, high: 3.365 }),
  smallFixed('LM1117-5', { low: 4.9, typical: 5, high: 5.1 }),
  oneJunction(5),
  oneJunction(8),
  oneJunction(12),
  oneJunction(15),
];

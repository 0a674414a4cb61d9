import { NONE, SILICON, type Regulator } from './regulator.js';
import type { Spread } from './spread.js';

/** Fixed 78xx. Windows over temperature: ST L78 DS0422 Rev 36 and Fairchild LM78XX Rev 1.3.0. */
const FIXED = {
  kind: 'fixed',
  adjustAmps: NONE,
  family: 'darlington',
  // 2 V at 1 A: ST DS0422, Fairchild, TI SNOSBT0L. The low end from memory; 2.5 V cold from memory.
  dropout: { low: 1.5, typical: 2, high: 2.5, atAmps: 1 },
  // ST DS0422: 5 mA for the stated regulation.
  minimumLoad: { low: 0, typical: 0, high: 5e-3 },
  // Fairchild Rev 1.3.0: typ 5 mA, max 8 mA; TI SLVS056P: typ 4.2 mA.
  quiescentAmps: { low: 3.5e-3, typical: 5e-3, high: 8e-3 },
  // Fairchild Rev 1.3.0 and ST DS0422: specified to 1 A (peak 2.2 A).
  ratedAmps: 1,
  // ST DS0422 Rev 36: 2.2 A peak; 0.75 A into a short at an input of 35 V. The knee at 15 V from memory.
  currentLimit: [
    { difference: 15, amps: 2.2 },
    { difference: 35, amps: 0.75 },
  ],
  ...SILICON,
} as const;

/** All fixed types of all makers: within 5 % over load, line and temperature. */
function within5Percent(output: number): Spread {
  return { low: (output * 95) / 100, typical: output, high: (output * 105) / 100 };
}

function fixedName(series: string, output: number): string {
  return `${series}${String(output).padStart(2, '0')}`;
}

/** Ripple rejection of one fixed type, dB: Fairchild LM78XX Rev 1.3.0, min and typ; the high end +7 dB (TI: 80 at 5 V). */
function rejection(low: number, typical: number, atVolts: number) {
  return { low, typical, high: typical + 7, atVolts };
}

function positive(output: number, low_dB: number, typical_dB: number): Regulator {
  return {
    ...FIXED,
    name: fixedName('78', output),
    polarity: 'positive',
    volts: within5Percent(output),
    rippleRejection_dB: rejection(low_dB, typical_dB, output),
    // ST DS0422: 35 V for the 5 to 18 V types, 40 V for 20 and 24 V.
    highestInput: output > 18 ? 40 : 35,
    packages: ['TO-220', 'TO-220FP', 'TO-263', 'TO-252', 'TO-3'],
  };
}

/** Negative 79xx: windows as for the 78xx; rejection, dropout and currents from memory. */
function negative(output: number): Regulator {
  return {
    ...FIXED,
    name: fixedName('79', output),
    polarity: 'negative',
    volts: within5Percent(output),
    rippleRejection_dB: { low: 54, typical: 60, high: 70, atVolts: output },
    quiescentAmps: { low: 1e-3, typical: 3e-3, high: 6e-3 },
    highestInput: output > 18 ? 40 : 35,
    packages: ['TO-220', 'TO-263', 'TO-3'],
  };
}

/** 78Mxx: half an ampere; every figure from memory but those of the 78xx. */
function medium(output: number, rejection_dB: number): Regulator {
  return {
    ...positive(output, rejection_dB, rejection_dB + 10),
    name: fixedName('78M', output),
    dropout: { low: 1.5, typical: 2, high: 2.5, atAmps: 0.5 },
    ratedAmps: 0.5,
    currentLimit: [
      { difference: 15, amps: 0.9 },
      { difference: 35, amps: 0.25 },
    ],
    packages: ['TO-220', 'TO-252'],
  };
}

/** 78Lxx and 79Lxx: 100 mA in the smallest case; every figure from memory. */
function small(series: '78L' | '79L', output: number, rejection_dB: number): Regulator {
  return {
    ...FIXED,
    name: fixedName(series, output),
    polarity: series === '78L' ? 'positive' : 'negative',
    volts: within5Percent(output),
    dropout: { low: 1.4, typical: 1.7, high: 2.2, atAmps: 0.04 },
    rippleRejection_dB: {
      low: rejection_dB,
      typical: rejection_dB + 8,
      high: rejection_dB + 14,
      atVolts: output,
    },
    minimumLoad: { low: 0, typical: 0, high: 1e-3 },
    quiescentAmps: { low: 2e-3, typical: 3.5e-3, high: 6e-3 },
    ratedAmps: 0.1,
    currentLimit: [{ difference: 10, amps: 0.16 }],
    highestInput: output > 8 ? 35 : 30,
    packages: ['TO-92'],
  };
}

export const FIXED_REGULATORS: readonly Regulator[] = [
  positive(5, 62, 73),
  // 6, 9, 10, 18 and 20 V: rejection from memory, between its neighbours'.
  positive(6, 59, 73),
  positive(8, 56, 73),
  positive(9, 56, 71),
  positive(10, 55, 71),
  positive(12, 55, 71),
  positive(15, 54, 70),
  positive(18, 53, 69),
  positive(20, 52, 68),
  positive(24, 50, 67),
  medium(5, 62),
  medium(12, 55),
  medium(15, 54),
  small('78L', 5, 41),
  small('78L', 9, 38),
  small('78L', 12, 37),
  small('78L', 15, 34),
  ...[5, 6, 8, 9, 12, 15, 18, 24].map(negative),
  small('79L', 5, 41),
  small('79L', 12, 37),
  small('79L', 15, 34),
];

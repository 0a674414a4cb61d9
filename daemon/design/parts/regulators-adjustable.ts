import { NONE, SILICON, type Regulator } from './regulator.js';

/** Common to the LM317 and the LM337. */
const ADJUSTABLE = {
  kind: 'adjustable',
  // TI LM317 SLVS044Z; ST Rev 19; Fairchild Rev 1.2.1; over temperature also Fairchild KA337 Rev 1.1.0.
  volts: { low: 1.2, typical: 1.25, high: 1.3 },
  // TI SLVS044Z and ST Rev 19: typ 50 uA, max 100 uA; the low end from memory.
  adjustAmps: { low: 30e-6, typical: 50e-6, high: 100e-6 },
  family: 'darlington',
  // About 2 V at 1 A from memory (makers give a curve); 3 V recommended: TI SLVS044Z.
  dropout: { low: 1.6, typical: 2, high: 3, atAmps: 1 },
  quiescentAmps: NONE,
  // TI SLVS044Z: current limit at least 1.5 A up to 15 V across it.
  ratedAmps: 1.5,
  // TI SLVS044Z: typ 2.2 A up to 15 V, 0.4 A at 40 V.
  currentLimit: [
    { difference: 15, amps: 2.2 },
    { difference: 40, amps: 0.4 },
  ],
  // TI SLVS044Z, absolute maximum.
  highestDifference: 40,
  ...SILICON,
} as const;

const LM317: Regulator = {
  ...ADJUSTABLE,
  name: 'LM317',
  polarity: 'positive',
  // TI SLVS044Z legacy 57 typ, ST Rev 19 and National 65 typ; with 10 uF: min 62 (TI), typ 64 to 80. At 10 V.
  rippleRejection_dB: { low: 55, typical: 62, high: 68, atVolts: 10 },
  rippleRejectionWithCapacitor_dB: { low: 62, typical: 75, high: 82 },
  // TI SLVS044Z, ST Rev 19, National DS009063: typ 3.5 mA, max 10 mA (Fairchild max 12 mA).
  minimumLoad: { low: 1e-3, typical: 3.5e-3, high: 10e-3 },
  packages: ['TO-220', 'TO-220FP', 'TO-263', 'TO-252', 'TO-3', 'SOT-223'],
};

export const ADJUSTABLE_REGULATORS: readonly Regulator[] = [
  LM317,
  // From memory: 60 V across it; the rest as the LM317.
  { ...LM317, name: 'LM317HV', highestDifference: 60, packages: ['TO-220', 'TO-3'] },
  {
    // From memory: 100 mA, limit about 200 mA, 2.5 V at 100 mA; the rest as the LM317.
    ...LM317,
    name: 'LM317L',
    dropout: { low: 1.4, typical: 1.7, high: 2.5, atAmps: 0.1 },
    minimumLoad: { low: 1e-3, typical: 3.5e-3, high: 5e-3 },
    ratedAmps: 0.1,
    currentLimit: [
      { difference: 10, amps: 0.2 },
      { difference: 40, amps: 0.05 },
    ],
    packages: ['TO-92'],
  },
  {
    // From memory: 3 A, limit 4.5 A up to 10 V and 1 A at 30 V, 35 V across it.
    ...LM317,
    name: 'LM350',
    dropout: { low: 1.9, typical: 2.3, high: 3, atAmps: 3 },
    ratedAmps: 3,
    currentLimit: [
      { difference: 10, amps: 4.5 },
      { difference: 30, amps: 1 },
    ],
    highestDifference: 35,
    packages: ['TO-220', 'TO-3'],
  },
  {
    // From memory: 5 A, limit 8 A up to 10 V and 1 A at 30 V, 35 V across it.
    ...LM317,
    name: 'LM338',
    dropout: { low: 2.2, typical: 2.6, high: 3, atAmps: 5 },
    ratedAmps: 5,
    currentLimit: [
      { difference: 10, amps: 8 },
      { difference: 30, amps: 1 },
    ],
    highestDifference: 35,
    packages: ['TO-220', 'TO-3'],
  },
  {
    ...ADJUSTABLE,
    name: 'LM337',
    polarity: 'negative',
    // Fairchild KA337/LM337 Rev 1.1.0: 60 typ; with 10 uF min 66, typ 77. At 10 V.
    rippleRejection_dB: { low: 54, typical: 60, high: 66, atVolts: 10 },
    rippleRejectionWithCapacitor_dB: { low: 66, typical: 77, high: 84 },
    // Fairchild KA337/LM337 Rev 1.1.0: typ 2.5 mA, max 10 mA.
    minimumLoad: { low: 1e-3, typical: 2.5e-3, high: 10e-3 },
    packages: ['TO-220', 'TO-263', 'TO-3'],
  },
];

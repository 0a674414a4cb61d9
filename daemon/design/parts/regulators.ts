import type { Spread } from './spread.js';

/** A three-terminal regulator. Volts are magnitudes; `polarity` has the sign. */
export interface Regulator {
  readonly name: string;
  readonly kind: 'adjustable' | 'fixed';
  readonly polarity: 'positive' | 'negative';
  /** Adjustable: the reference between output and adjust. Fixed: the output. Over load, line and temperature, V. */
  readonly volts: Spread;
  /** Current out of the adjust pin, A; 0 for a fixed one. */
  readonly adjustAmps: Spread;
  /** Least difference of input and output: `typical` at `atAmps`, `high` is what to design for, V. */
  readonly dropout: Spread & { readonly atAmps: number };
  /** Rejection of the input's ripple at twice the mains frequency, dB, at `atVolts` of output. */
  readonly rippleRejection_dB: Spread & { readonly atVolts: number };
  /** The same with 10 uF from adjust to ground; absent for a fixed one. */
  readonly rippleRejectionWithCapacitor_dB?: Spread;
  /** Load below which the output isn't held, A. */
  readonly minimumLoad: Spread;
  /** Current out of the ground pin, A; 0 for an adjustable one, whose own current goes to the output. */
  readonly quiescentAmps: Spread;
  /** Output current that every sample gives, A. */
  readonly ratedAmps: number;
  /** Degrees C. */
  readonly junctionOperating: number;
  readonly junctionAbsolute: number;
  /** Highest input to ground, V; absent where only the difference is limited. */
  readonly highestInput?: number;
  /** Highest input to output, V. */
  readonly highestDifference?: number;
  readonly packages: readonly string[];
}

const NONE: Spread = { low: 0, typical: 0, high: 0 };

/** Operating junction 0 to 125, absolute 150: TI LM317 SLVS044Z; TI LM340/LM7805 SNOSBT0L. */
const SILICON = { junctionOperating: 125, junctionAbsolute: 150 };

/** Common to the LM317 and the LM337. */
const ADJUSTABLE = {
  kind: 'adjustable',
  // TI LM317 SLVS044Z; ST Rev 19; Fairchild Rev 1.2.1; over temperature also Fairchild KA337 Rev 1.1.0.
  volts: { low: 1.2, typical: 1.25, high: 1.3 },
  // TI SLVS044Z and ST Rev 19: typ 50 uA, max 100 uA; the low end from memory.
  adjustAmps: { low: 30e-6, typical: 50e-6, high: 100e-6 },
  // About 2 V at 1 A from memory (makers give a curve); 3 V recommended: TI SLVS044Z.
  dropout: { low: 1.6, typical: 2, high: 3, atAmps: 1 },
  quiescentAmps: NONE,
  // TI SLVS044Z: current limit at least 1.5 A up to 15 V across it.
  ratedAmps: 1.5,
  // TI SLVS044Z, absolute maximum.
  highestDifference: 40,
  ...SILICON,
} as const;

/** Fixed 78xx. Windows over temperature: ST L78 DS0422 Rev 36 and Fairchild LM78XX Rev 1.3.0. */
const FIXED = {
  kind: 'fixed',
  adjustAmps: NONE,
  // 2 V at 1 A: ST DS0422, Fairchild, TI SNOSBT0L. The low end from memory; 2.5 V cold from memory.
  dropout: { low: 1.5, typical: 2, high: 2.5, atAmps: 1 },
  // ST DS0422: 5 mA for the stated regulation.
  minimumLoad: { low: 0, typical: 0, high: 5e-3 },
  // Fairchild Rev 1.3.0: typ 5 mA, max 8 mA; TI SLVS056P: typ 4.2 mA.
  quiescentAmps: { low: 3.5e-3, typical: 5e-3, high: 8e-3 },
  // Fairchild Rev 1.3.0 and ST DS0422: specified to 1 A (peak 2.2 A).
  ratedAmps: 1,
  ...SILICON,
} as const;

/** Ripple rejection of one fixed type, dB: Fairchild LM78XX Rev 1.3.0, min and typ; the high end +7 dB (TI: 80 at 5 V). */
function rejection(low: number, typical: number, atVolts: number) {
  return { low, typical, high: typical + 7, atVolts };
}

function positiveFixed(output: number, volts: Spread, low_dB: number, typical_dB: number): Regulator {
  return {
    ...FIXED,
    name: `78${String(output).padStart(2, '0')}`,
    polarity: 'positive',
    volts,
    rippleRejection_dB: rejection(low_dB, typical_dB, output),
    // ST DS0422: 35 V for the 5 to 18 V types, 40 V for 20 and 24 V.
    highestInput: output > 18 ? 40 : 35,
    packages: ['TO-220', 'TO-220FP', 'TO-263', 'TO-252', 'TO-3'],
  };
}

/** Negative 79xx: windows as for the 78xx; rejection, dropout and current from memory. */
function negativeFixed(output: number, volts: Spread): Regulator {
  return {
    ...FIXED,
    name: `79${String(output).padStart(2, '0')}`,
    polarity: 'negative',
    volts,
    rippleRejection_dB: { low: 54, typical: 60, high: 70, atVolts: output },
    quiescentAmps: { low: 1e-3, typical: 3e-3, high: 6e-3 },
    highestInput: 35,
    packages: ['TO-220', 'TO-263', 'TO-3'],
  };
}

/** Low-drop adjustables; every figure from memory of several makers' sheets. */
const LOW_DROP = {
  kind: 'adjustable',
  polarity: 'positive',
  volts: { low: 1.225, typical: 1.25, high: 1.27 },
  adjustAmps: { low: 40e-6, typical: 60e-6, high: 120e-6 },
  quiescentAmps: NONE,
  rippleRejection_dB: { low: 55, typical: 65, high: 75, atVolts: 3 },
  rippleRejectionWithCapacitor_dB: { low: 60, typical: 73, high: 80 },
  ...SILICON,
} as const;

const ALL: readonly Regulator[] = [
  {
    ...ADJUSTABLE,
    name: 'LM317',
    polarity: 'positive',
    // TI SLVS044Z legacy 57 typ, ST Rev 19 and National 65 typ; with 10 uF: min 62 (TI), typ 64 to 80. At 10 V.
    rippleRejection_dB: { low: 55, typical: 62, high: 68, atVolts: 10 },
    rippleRejectionWithCapacitor_dB: { low: 62, typical: 75, high: 82 },
    // TI SLVS044Z, ST Rev 19, National DS009063: typ 3.5 mA, max 10 mA (Fairchild max 12 mA).
    minimumLoad: { low: 1e-3, typical: 3.5e-3, high: 10e-3 },
    packages: ['TO-220', 'TO-220FP', 'TO-263', 'TO-252', 'TO-3', 'SOT-223'],
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
  {
    ...LOW_DROP,
    name: 'LM1086',
    dropout: { low: 1.1, typical: 1.3, high: 1.5, atAmps: 1.5 },
    minimumLoad: { low: 1e-3, typical: 5e-3, high: 10e-3 },
    ratedAmps: 1.5,
    highestDifference: 29,
    packages: ['TO-220', 'TO-263'],
  },
  {
    ...LOW_DROP,
    name: 'LM1117',
    dropout: { low: 1, typical: 1.15, high: 1.3, atAmps: 0.8 },
    minimumLoad: { low: 0.8e-3, typical: 1.7e-3, high: 5e-3 },
    ratedAmps: 0.8,
    highestInput: 20,
    packages: ['TO-220', 'TO-252', 'SOT-223'],
  },
  positiveFixed(5, { low: 4.75, typical: 5, high: 5.25 }, 62, 73),
  positiveFixed(8, { low: 7.6, typical: 8, high: 8.4 }, 56, 73),
  positiveFixed(12, { low: 11.4, typical: 12, high: 12.6 }, 55, 71),
  positiveFixed(15, { low: 14.25, typical: 15, high: 15.75 }, 54, 70),
  positiveFixed(24, { low: 22.8, typical: 24, high: 25.2 }, 50, 67),
  negativeFixed(5, { low: 4.75, typical: 5, high: 5.25 }),
  negativeFixed(12, { low: 11.4, typical: 12, high: 12.6 }),
  negativeFixed(15, { low: 14.25, typical: 15, high: 15.75 }),
];

/** Every regulator that a design may name. */
export const REGULATORS: ReadonlyMap<string, Regulator> = new Map(ALL.map((part) => [part.name, part]));

/**
 * The regulator of this name.
 * @throws {RangeError} for a name that isn't in the library; a loaded design has none such.
 */
export function regulatorNamed(name: string): Regulator {
  const part = REGULATORS.get(name);
  if (part === undefined) throw new RangeError(`regulator "${name}" isn't in the part library`);
  return part;
}

/**
 * Output of an adjustable regulator: Vref (1 + R2/R1) + Iadj R2, V.
 * Source: TI LM317 datasheet SLVS044Z, output voltage equation.
 */
export function adjustedVolts(referenceVolts: number, r1: number, r2: number, adjustAmps: number): number {
  return referenceVolts * (1 + r2 / r1) + adjustAmps * r2;
}

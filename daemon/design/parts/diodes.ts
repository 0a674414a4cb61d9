import type { Spread } from './spread.js';

/** Shockley's law with an ohmic part: v = n Vt ln(1 + i/is) + rs i, one diode. */
export interface DiodeLaw {
  /** Saturation current, A. */
  readonly is: number;
  /** Emission coefficient. */
  readonly n: number;
  /** Ohmic part, ohm. */
  readonly rs: number;
}

/** One rectifier diode, or one leg of a bridge in one case. */
export interface Diode {
  readonly name: string;
  readonly law: DiodeLaw;
  /** By how much one diode's drop differs from the law, V: samples, and -2 mV/K of warming (from memory). */
  readonly dropVolts: Spread;
  readonly repetitiveReverseVolts: number;
  /** One mains half-cycle, not repeated, A. */
  readonly surgeAmps: number;
  /** Mean rectified current of the whole bridge at 25 degrees C case or with short leads, A. */
  readonly ratedAmps: number;
}

/** k T / q at 300 K, V: Boltzmann constant and elementary charge of the SI. */
export const THERMAL_VOLTS = 0.025852;

/** Of silicon rectifiers between milliamps and amps: about 1.8 to 2 (from memory). */
const EMISSION = 1.9;

interface CurvePoint {
  readonly volts: number;
  readonly amps: number;
}

/**
 * The law through two published points of a forward curve (W. Shockley 1949, with a series resistance).
 * @throws {RangeError} when the points need a negative resistance.
 */
export function lawThrough(low: CurvePoint, high: CurvePoint, n = EMISSION): DiodeLaw {
  const logarithmic = n * THERMAL_VOLTS * Math.log(high.amps / low.amps);
  const rs = (high.volts - low.volts - logarithmic) / (high.amps - low.amps);
  if (rs < 0)
    throw new RangeError(`these points of a diode's curve need ${rs} ohm; take a smaller n than ${n}`);
  return { is: low.amps / Math.exp((low.volts - rs * low.amps) / (n * THERMAL_VOLTS)), n, rs };
}

/** Drop of one diode at a forward current, V. */
export function diodeVolts({ is, n, rs }: DiodeLaw, amps: number): number {
  return n * THERMAL_VOLTS * Math.log1p(amps / is) + rs * amps;
}

/** The same law moved, so that the diode drops so many volts at 1 A; a larger ohmic part than half of them is cut. */
export function lawDropping({ n, rs }: DiodeLaw, volts: number): DiodeLaw {
  const ohms = Math.min(rs, volts / 2);
  return { is: 1 / Math.expm1((volts - ohms) / (n * THERMAL_VOLTS)), n, rs: ohms };
}

const DROP: Spread = { low: -0.1, typical: 0, high: 0.08 };

/**
 * 0.925 V at 1 A and 1.4 V at 12 A: Kuphaldt, Lessons in Electric Circuits, 1 A diode model; agrees with the typ
 * 0.93 V at 1 A of ON Semiconductor 1N4001-1N4007 Rev 7.
 */
const ONE_AMP = lawThrough({ volts: 0.925, amps: 1 }, { volts: 1.4, amps: 12 });
/** From memory: about 0.85 V at 1 A and 1.0 V at 6 A; makers guarantee 1.0 to 1.2 V at 3 A. */
const THREE_AMP = lawThrough({ volts: 0.82, amps: 1 }, { volts: 1, amps: 6 });
/** Below the guaranteed 1.0 V at 2 A a leg (MOSPEC GBU4A-K), by 0.08 V (from memory). */
const FOUR_AMP_BRIDGE = lawThrough({ volts: 0.92, amps: 2 }, { volts: 1.03, amps: 6 });
/** Below the guaranteed 0.95 V at 4 A and 1.0 V at 8 A (GBU8005G-GBU810G) by 0.05 V (from memory). */
const EIGHT_AMP_BRIDGE = lawThrough({ volts: 0.9, amps: 4 }, { volts: 0.95, amps: 8 });
/** Halfway between the 4 A and the 8 A bridges (from memory). */
const SIX_AMP_BRIDGE = lawThrough({ volts: 0.9, amps: 3 }, { volts: 0.98, amps: 6 });
/** From memory: at most 0.95 V at 6 A. */
const SIX_AMP = lawThrough({ volts: 0.82, amps: 2 }, { volts: 0.9, amps: 6 });

/** Of Schottky diodes (from memory). */
const SCHOTTKY_EMISSION = 1.05;
/** From memory: at most 0.6 V at 1 A and 0.9 V at 3.1 A for the 40 V type; typical ones are a quarter lower. */
const SCHOTTKY_ONE_AMP = lawThrough({ volts: 0.45, amps: 1 }, { volts: 0.65, amps: 3 }, SCHOTTKY_EMISSION);
/** From memory: at most 0.525 V at 3 A and 0.95 V at 9.4 A for the 40 V type; typical ones are a fifth to a third lower. */
const SCHOTTKY_THREE_AMP = lawThrough({ volts: 0.42, amps: 3 }, { volts: 0.6, amps: 9.4 }, SCHOTTKY_EMISSION);
/** From memory: at most 1.1 V a leg at half the rated current; here 1.0 V at 12.5 A. */
const LARGE_BRIDGE = lawThrough({ volts: 0.88, amps: 3 }, { volts: 1, amps: 12.5 });

function family(
  names: readonly string[],
  reverse: readonly number[],
  rest: Omit<Diode, 'name' | 'repetitiveReverseVolts'>,
): Diode[] {
  return names.map((name, index) => ({ ...rest, name, repetitiveReverseVolts: reverse[index] ?? 0 }));
}

const ALL: readonly Diode[] = [
  // ON Semiconductor 1N4001-1N4007 Rev 7: VRRM 50 to 1000 V, IFSM 30 A, 1 A.
  ...family(
    ['1N4001', '1N4002', '1N4003', '1N4004', '1N4005', '1N4006', '1N4007'],
    [50, 100, 200, 400, 600, 800, 1000],
    // Two diodes of a bridge take turns, so the bridge gives twice one diode's mean.
    { law: ONE_AMP, dropVolts: DROP, surgeAmps: 30, ratedAmps: 2 },
  ),
  // From memory: VRRM, 200 A, 3 A.
  ...family(
    ['1N5400', '1N5401', '1N5402', '1N5403', '1N5404', '1N5405', '1N5406', '1N5407', '1N5408'],
    [50, 100, 200, 300, 400, 500, 600, 800, 1000],
    { law: THREE_AMP, dropVolts: DROP, surgeAmps: 200, ratedAmps: 6 },
  ),
  // Surge currents from memory; letters give the reverse volts (from memory).
  ...family(['GBU4', 'GBU4D', 'GBU4G', 'GBU4J', 'GBU4M'], [400, 200, 400, 600, 1000], {
    law: FOUR_AMP_BRIDGE,
    dropVolts: DROP,
    surgeAmps: 150,
    ratedAmps: 4,
  }),
  ...family(['GBU8', 'GBU8D', 'GBU8G', 'GBU8J', 'GBU8M'], [400, 200, 400, 600, 1000], {
    law: EIGHT_AMP_BRIDGE,
    dropVolts: DROP,
    surgeAmps: 200,
    ratedAmps: 8,
  }),
  ...family(['GBU6', 'GBU6D', 'GBU6G', 'GBU6J', 'GBU6M'], [400, 200, 400, 600, 1000], {
    law: SIX_AMP_BRIDGE,
    dropVolts: DROP,
    surgeAmps: 175,
    ratedAmps: 6,
  }),
  // From memory: 400 A surge, 6 A.
  ...family(['6A05', '6A1', '6A2', '6A4', '6A6', '6A10'], [50, 100, 200, 400, 600, 1000], {
    law: SIX_AMP,
    dropVolts: DROP,
    surgeAmps: 400,
    ratedAmps: 12,
  }),
  // From memory: VRRM, 25 A surge, 1 A.
  ...family(['1N5817', '1N5818', '1N5819'], [20, 30, 40], {
    law: SCHOTTKY_ONE_AMP,
    dropVolts: DROP,
    surgeAmps: 25,
    ratedAmps: 2,
  }),
  // From memory: VRRM, 80 A surge, 3 A.
  ...family(['1N5820', '1N5821', '1N5822'], [20, 30, 40], {
    law: SCHOTTKY_THREE_AMP,
    dropVolts: DROP,
    surgeAmps: 80,
    ratedAmps: 6,
  }),
  ...family(['KBPC25', 'KBPC35'], [400, 400], {
    law: LARGE_BRIDGE,
    dropVolts: DROP,
    surgeAmps: 300,
    ratedAmps: 25,
  }),
];

/** Every rectifier diode or bridge that a design may name. */
export const DIODES: ReadonlyMap<string, Diode> = new Map(ALL.map((part) => [part.name, part]));

/**
 * The diode of this name.
 * @throws {RangeError} for a name that isn't in the library; a loaded design has none such.
 */
export function diodeNamed(name: string): Diode {
  const part = DIODES.get(name);
  if (part === undefined) throw new RangeError(`diode "${name}" isn't in the part library`);
  return part;
}

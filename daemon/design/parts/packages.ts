import type { Spread } from './spread.js';

/** A regulator's case. */
export interface Package {
  readonly name: string;
  /** Package of the library whose face it lies on its heatsink with; absent for its own. */
  readonly outline?: string;
  /** Junction to case, K/W. */
  readonly junctionCase: Spread;
  /** Junction to still air without a heatsink, K/W. */
  readonly junctionAir: Spread;
  /** Heat that the case takes for a kelvin, J/K. */
  readonly caseHeatCapacity: Spread;
}

const ALL: readonly Package[] = [
  {
    name: 'TO-220',
    // 5: ST LM317 Rev 19, ST L78 DS0422, Fairchild LM78XX. 4: National DS009063. 3 low end: from memory.
    junctionCase: { low: 3, typical: 5, high: 5.5 },
    // 50: ST and National. 54: TI SNOSBT0L note 3. 65: Fairchild LM78XX (their LM317 sheet says 80).
    junctionAir: { low: 48, typical: 57, high: 68 },
    // From memory; no published number found.
    caseHeatCapacity: { low: 1, typical: 1.5, high: 2 },
  },
  {
    name: 'TO-220FP',
    // 5 and 60: ST LM317 Rev 19 and ST L78 DS0422.
    junctionCase: { low: 4, typical: 5, high: 5.5 },
    junctionAir: { low: 54, typical: 60, high: 70 },
    // From memory.
    caseHeatCapacity: { low: 1, typical: 1.5, high: 2 },
  },
  {
    name: 'TO-3',
    // 2 and 39: National DS009063; TI SNOSBT0L gives 4 and 39.
    junctionCase: { low: 1.5, typical: 2, high: 4 },
    junctionAir: { low: 33, typical: 39, high: 43 },
    // From memory.
    caseHeatCapacity: { low: 5, typical: 6, high: 8 },
  },
  {
    name: 'TO-263',
    // 3 and 62.5: ST LM317 Rev 19 (without copper area).
    junctionCase: { low: 2, typical: 3, high: 4 },
    junctionAir: { low: 40, typical: 62.5, high: 70 },
    // From memory.
    caseHeatCapacity: { low: 0.8, typical: 1.2, high: 1.6 },
  },
  {
    name: 'TO-252',
    // 8 and 100: ST L78 DS0422. 12 and 103: National DS009063.
    junctionCase: { low: 6, typical: 8, high: 12 },
    junctionAir: { low: 70, typical: 100, high: 110 },
    // From memory.
    caseHeatCapacity: { low: 0.2, typical: 0.3, high: 0.5 },
  },
  {
    name: 'SOT-223',
    // 23.5 and 140: National DS009063; TI SLVS044Z gives 66.8 on a JEDEC board.
    junctionCase: { low: 15, typical: 23.5, high: 30 },
    junctionAir: { low: 66, typical: 120, high: 145 },
    // From memory.
    caseHeatCapacity: { low: 0.08, typical: 0.12, high: 0.2 },
  },
  {
    name: 'TO-92',
    // From memory: 160 to 200 in still air on short leads.
    junctionCase: { low: 40, typical: 60, high: 85 },
    junctionAir: { low: 150, typical: 180, high: 210 },
    caseHeatCapacity: { low: 0.1, typical: 0.2, high: 0.3 },
  },
  {
    name: 'TO-126',
    // From memory: small power transistors of 10 to 25 W.
    junctionCase: { low: 5, typical: 7, high: 10 },
    junctionAir: { low: 80, typical: 95, high: 110 },
    caseHeatCapacity: { low: 0.4, typical: 0.6, high: 0.9 },
  },
  {
    name: 'TO-247',
    // From memory: power transistors of 80 to 150 W. 1.6: Linear Technology LT1083, power part in TO-3P.
    junctionCase: { low: 0.7, typical: 1.2, high: 1.7 },
    junctionAir: { low: 33, typical: 38, high: 45 },
    caseHeatCapacity: { low: 2.5, typical: 4, high: 5.5 },
  },
  {
    name: 'module',
    // From memory: a switching module's board of about 4 cm by 2 cm in still air, both faces free.
    junctionCase: { low: 4, typical: 8, high: 14 },
    junctionAir: { low: 28, typical: 40, high: 60 },
    caseHeatCapacity: { low: 3, typical: 6, high: 10 },
  },
];

/** Every package that a design may name. */
export const PACKAGES: ReadonlyMap<string, Package> = new Map(ALL.map((part) => [part.name, part]));

/**
 * The package of this name.
 * @throws {RangeError} for a name that isn't in the library; a loaded design has none such.
 */
export function packageNamed(name: string): Package {
  const part = PACKAGES.get(name);
  if (part === undefined) throw new RangeError(`package "${name}" isn't in the part library`);
  return part;
}

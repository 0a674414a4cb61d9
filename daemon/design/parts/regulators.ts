import type { Regulator } from './regulator.js';
import { ADJUSTABLE_REGULATORS } from './regulators-adjustable.js';
import { FIXED_REGULATORS } from './regulators-fixed.js';
import { LOW_DROP_REGULATORS } from './regulators-low-drop.js';

export type { Regulator } from './regulator.js';

const ALL: readonly Regulator[] = [...ADJUSTABLE_REGULATORS, ...FIXED_REGULATORS, ...LOW_DROP_REGULATORS];

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

import { surfaceTemperature } from './surface.js';
import type { SurfaceLaw } from './surface.js';

/**
 * Lumps in a row from the heated junction outwards; the last one gives its heat to the air by a surface law.
 * Bare package: junction, case. On a heatsink: junction, case, heatsink.
 */
export interface Stack {
  /** Heat capacities, junction first, J/K, above zero. */
  readonly capacities: readonly number[];
  /** From each lump to the next, K/W: one fewer than capacities. */
  readonly resistances: readonly number[];
  readonly surface: SurfaceLaw;
}

/** Temperatures of the lumps after a long time at constant heat and air, junction first, °C. */
export function steadyStack(stack: Stack, watts: number, air: number): number[] {
  const count = stack.capacities.length;
  const temperatures = new Array<number>(count);
  let temperature = surfaceTemperature(stack.surface, watts, air);
  temperatures[count - 1] = temperature;
  for (let k = count - 2; k >= 0; k--) {
    temperature += watts * stack.resistances[k]!;
    temperatures[k] = temperature;
  }
  return temperatures;
}

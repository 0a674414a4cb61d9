import { steadyTemperatures } from './ladder.js';
import type { Ladder } from './ladder.js';
import { surfaceTemperature } from './surface.js';
import type { SurfaceLaw } from './surface.js';

/** Where a heatsink and the parts on it come to rest, °C. */
export interface SharedRest {
  readonly heatsink: number;
  /** For each part its stages, junction first. */
  readonly parts: readonly (readonly number[])[];
}

/**
 * Steady temperatures of several parts on one heatsink that obeys a surface law: the sink carries all heat, each part
 * stands above it by its own. Each ladder ends at the sink. For the curve over time use `sharedHeatsinkNetwork` with
 * the sink's K/W at this rest.
 */
export function steadyShared(
  ladders: readonly Ladder[],
  surface: SurfaceLaw,
  watts: readonly number[],
  air: number,
): SharedRest {
  const total = watts.reduce((sum, value) => sum + value, 0);
  const heatsink = surfaceTemperature(surface, total, air);
  return { heatsink, parts: ladders.map((ladder, k) => steadyTemperatures(ladder, watts[k] ?? 0, heatsink)) };
}

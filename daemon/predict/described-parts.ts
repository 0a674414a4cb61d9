import type { Design } from '../design/design.js';
import type { CoolingDescription, SupplyDescription } from './engine/supply.js';

/** Hottest junction that a part is rated for, degrees C; Infinity where its heat isn't known. */
export function junctionLimitOf(name: string, { rails, filter }: SupplyDescription): number {
  if (name === 'filter') return filter?.kind === 'multiplier' ? filter.junctionLimit : Infinity;
  const regulator = rails.find((rail) => rail.name === name)?.regulator;
  return regulator === undefined || regulator.kind === 'given' ? Infinity : regulator.junctionLimit;
}

/** How the engine has a part cooled. @throws {RangeError} for a part that isn't there. */
export function coolingNamed(name: string, { rails, filter }: SupplyDescription): CoolingDescription {
  if (name === 'filter' && filter?.kind === 'multiplier') return filter.cooling;
  const rail = rails.find((each) => each.name === name);
  if (rail === undefined) throw new RangeError(`there is no cooled part "${name}"`);
  return rail.cooling;
}

/** The reservoir of this name as the design has it; a negative one that is left out is like the other. */
export function reservoirNamed(name: string, design: Design): Design['reservoir'] {
  return name === 'reservoir' ? design.reservoir : (design.negative_reservoir ?? design.reservoir);
}

/** What its bleed resistor has to empty, F: a filter's capacitor flows back through the filter's resistor. */
export function bledFarads(name: string, design: Design): number {
  const behind = name === 'reservoir' ? (design.filter?.capacity_uF ?? 0) : 0;
  return (reservoirNamed(name, design).capacity_uF + behind) * 1e-6;
}

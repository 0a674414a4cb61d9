import type { Design } from '../design/design.js';
import { partsOf } from '../design/own-parts.js';
import type { Regulator } from '../design/parts/regulators.js';

const OTHER_REGULATORS = {
  zener: 'zener follower',
  switching: 'switching module',
  given: 'regulator',
} as const;

const FOLLOWERS = { bipolar: 'transistor', darlington: 'Darlington', mosfet: 'MOSFET' } as const;

/** What the regulator of a rail, or the pass device of the filter, is called: `LM317`, `switching module`. */
export function partWords(name: string, design: Design): string {
  const { filter } = design;
  if (name === 'filter') return filter?.kind === 'multiplier' ? FOLLOWERS[filter.follower] : 'resistor';
  const regulator = design.rails[name]?.regulator;
  if (regulator === undefined) throw new RangeError(`there is no rail "${name}"`);
  return typeof regulator === 'string' ? regulator : OTHER_REGULATORS[regulator.kind];
}

/** The part that regulates a rail; null for what is no part of the library. */
export function regulatorOf(name: string, design: Design): Regulator | null {
  const regulator = design.rails[name]?.regulator;
  if (typeof regulator !== 'string') return null;
  return partsOf(design).regulators.get(regulator) ?? null;
}

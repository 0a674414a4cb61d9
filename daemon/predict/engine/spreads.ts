import type { Spread } from '../../design/parts/spread.js';
import type { Uncertain } from './supply.js';

/** Hottest junction of power transistors (common practice), degrees C. */
export const TRANSISTOR_JUNCTION = 150;

/** A spread under the name by which it is drawn. */
export function named(name: string, { low, typical, high }: Spread): Uncertain {
  return { name, low, typical, high };
}

/** So much of the value either way. */
export function within(value: number, doubt: number): Spread {
  return share(value, 1 - doubt, 1 + doubt);
}

/** Ends as factors of the typical value. */
export function share(typical: number, low: number, high: number): Spread {
  return { low: typical * low, typical, high: typical * high };
}

export function plusMinus(typical: number, by: number): Spread {
  return { low: typical - by, typical, high: typical + by };
}

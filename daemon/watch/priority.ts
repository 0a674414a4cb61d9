import type { Limit, PointUnit } from '../predict/prediction.js';
import type { Priority } from './alarm.js';

/** Under this there is no time to finish what one was doing. */
const SOON_S = 120;
/** A winding or a resistor heats for minutes before it is harmed; well beyond its rating it doesn't last (common practice). */
const SLOW_UNITS: readonly PointUnit[] = ['A', 'Arms', 'W'];
const WELL_BEYOND = 1.5;

/**
 * How urgent a limit is that has been reached: by what is destroyed and how soon. What damages, and ratings of volts
 * and temperatures, leave no time; ratings of current and heat do while they are only just passed.
 */
export function priorityOfLimit(value: number, unit: PointUnit, { kind, value: limit }: Limit): Priority {
  const leavesTime = kind === 'rating' && SLOW_UNITS.includes(unit);
  return leavesTime && Math.abs(value) < WELL_BEYOND * Math.abs(limit) ? 'medium' : 'high';
}

/** How urgent a limit is that lies ahead by so many seconds; null: it can't be told. */
export function priorityAhead(seconds: number | null): Priority {
  return seconds !== null && seconds < SOON_S ? 'high' : 'medium';
}

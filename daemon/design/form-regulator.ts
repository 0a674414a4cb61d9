import { groupIn, type Written } from './form-choices.js';
import { REGULATORS } from './parts/regulators.js';

/** How a rail's regulator gets its volts; `other` for what is no part, or no known one. */
export type KnownRegulator = 'adjustable' | 'fixed' | 'other';

/** The regulator of a rail as it is written. */
export function regulatorOf(rail: string, whole: Written): KnownRegulator {
  const written = groupIn(groupIn(whole['rails'])[rail])['regulator'];
  if (typeof written !== 'string' && typeof written !== 'number') return 'other';
  const own = groupIn(groupIn(groupIn(whole['parts'])['regulators'])[String(written)]);
  const like = typeof own['like'] === 'string' ? own['like'] : String(written);
  return REGULATORS.get(like)?.kind ?? 'other';
}

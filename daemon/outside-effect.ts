import type { AlarmKind } from './watch/alarm.js';
import type { Effect } from './watch/effects.js';

const OUTSIDE: readonly AlarmKind[] = [
  'over-limit',
  'outside-prediction',
  'passing-input',
  'no-headroom',
  'ripple-frequency',
  'oscillating',
];

/** Whether an effect says that the supply itself is beyond a limit or outside its prediction. */
export function isOutside(effect: Effect): boolean {
  return effect.kind === 'alarm' && effect.change === 'raised' && OUTSIDE.includes(effect.alarm.cause.kind);
}

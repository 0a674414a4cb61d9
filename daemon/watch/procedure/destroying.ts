import type { AlarmFacts } from '../alarm.js';

/** Something is being destroyed, or is going to be: no reason goes on against that. */
export function isDestroying({ active, suppressedBy, cause }: AlarmFacts): boolean {
  if (!active || suppressedBy.length > 0) return false;
  return ['over-limit', 'heading-over-limit', 'passing-input'].includes(cause.kind);
}

/** Nothing goes on by itself while it stands; a person may have a reason to. */
export function holdsUp(alarm: AlarmFacts): boolean {
  const { active, suppressedBy, priority } = alarm;
  return isDestroying(alarm) || (active && suppressedBy.length === 0 && priority === 'high');
}

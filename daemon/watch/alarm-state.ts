import type { AlarmFacts, AlarmState } from './alarm.js';

/**
 * The state of an alarm by the names of ISA-18.2 / IEC 62682, derived from its facts. What a person put aside
 * comes before what is explained by another alarm. A latched alarm that has returned stays until it is reset.
 */
export function alarmState(facts: AlarmFacts): AlarmState {
  if (facts.shelvedUntilMs !== null) return 'shelved';
  if (facts.suppressedBy.length > 0) return 'suppressed';
  if (facts.active) return facts.acknowledged ? 'acknowledged' : 'unacknowledged';
  if (facts.latched) return facts.acknowledged ? 'latched-acknowledged' : 'latched-unacknowledged';
  return facts.acknowledged ? 'normal' : 'returned-unacknowledged';
}

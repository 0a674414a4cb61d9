import { describe, expect, it } from 'vitest';
import type { AlarmFacts } from '../../../daemon/watch/alarm.js';
import { alarmState } from '../../../daemon/watch/alarm-state.js';

const FACTS: AlarmFacts = {
  id: 'not-recording',
  cause: { kind: 'not-recording', why: 'disk full' },
  priority: 'medium',
  active: true,
  acknowledged: false,
  latched: false,
  shelvedUntilMs: null,
  suppressedBy: [],
  firstUp: true,
  raisedAtMs: 0,
  returnedAtMs: null,
};

// The states of ISA-18.2 / IEC 62682 over the independent facts of OPC 10000-9, AlarmConditionType.
describe('state from facts', () => {
  it.each([
    [true, false, false, 'unacknowledged'],
    [true, true, false, 'acknowledged'],
    [false, false, false, 'returned-unacknowledged'],
    [false, true, false, 'normal'],
    [true, false, true, 'unacknowledged'],
    [true, true, true, 'acknowledged'],
    [false, false, true, 'latched-unacknowledged'],
    [false, true, true, 'latched-acknowledged'],
  ] as const)('active %s, acknowledged %s, latched %s: %s', (active, acknowledged, latched, expected) => {
    expect(alarmState({ ...FACTS, active, acknowledged, latched })).toBe(expected);
  });

  it('shelved and suppressed hide the rest, and a person’s own act is told first', () => {
    expect(alarmState({ ...FACTS, suppressedBy: ['over-limit:logic.volts'] })).toBe('suppressed');
    expect(alarmState({ ...FACTS, shelvedUntilMs: 5000 })).toBe('shelved');
    expect(alarmState({ ...FACTS, shelvedUntilMs: 5000, suppressedBy: ['x'] })).toBe('shelved');
  });
});

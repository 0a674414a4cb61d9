import { expect, it } from 'vitest';
import type { AlarmFacts, Priority } from '../../../daemon/watch/alarm.js';
import { alarmList } from '../../../daemon/watch/standing.js';
import { beginWatch } from '../../../daemon/watch/watch.js';
import { PLAN, poweredCabin, reading } from './cabin.js';

const alarm = (
  id: string,
  priority: Priority,
  raisedAtMs: number,
  more: Partial<AlarmFacts> = {},
): AlarmFacts => ({
  id,
  cause: { kind: 'not-recording', why: '' },
  priority,
  active: true,
  acknowledged: false,
  latched: false,
  shelvedUntilMs: null,
  suppressedBy: [],
  firstUp: false,
  raisedAtMs,
  returnedAtMs: null,
  ...more,
});

it('alarms come unacknowledged first, then by priority, then the newest; what is put aside last', () => {
  const alarms = [
    alarm('explained', 'high', 9, { suppressedBy: ['x'] }),
    alarm('seen', 'high', 8, { acknowledged: true }),
    alarm('low', 'low', 7),
    alarm('older', 'medium', 1),
    alarm('newer', 'medium', 2),
    alarm('worst', 'high', 0),
  ];
  expect(alarmList({ ...beginWatch(PLAN), alarms }).map(({ id }) => id)).toEqual([
    'worst',
    'newer',
    'older',
    'low',
    'seen',
    'explained',
  ]);
});

it('who connects later is told every alarm that is active or unacknowledged (Retain of OPC 10000-9)', () => {
  const watched = poweredCabin()
    .feed(reading(500, 'meter volts', 7))
    .hold(1000, 4500, 'meter volts', 5);
  expect(alarmList(watched.state).map(({ id }) => id)).toContain('over-limit:logic.volts');
});

import { expect, it } from 'vitest';
import { topUnacknowledged, worstFirst } from '../../web/alarm-order.js';
import { HOT_CASE, LOST_METER, LOW_LOGIC } from './signal-cabin.js';

it('puts the worst first: priority, then what still waits, then the newest', () => {
  const seen = { ...HOT_CASE, id: 'seen', state: 'acknowledged' as const };
  const newer = { ...LOW_LOGIC, id: 'newer', raisedAtMs: LOW_LOGIC.raisedAtMs + 1 };
  const order = worstFirst([LOST_METER, LOW_LOGIC, seen, newer, HOT_CASE]);
  expect(order.map((alarm) => alarm.id)).toEqual([HOT_CASE.id, 'seen', 'newer', LOW_LOGIC.id, LOST_METER.id]);
});

it('puts last what is shelved or explained, whatever its priority', () => {
  const shelved = { ...HOT_CASE, state: 'shelved' as const };
  expect(worstFirst([shelved, LOST_METER]).map((alarm) => alarm.id)).toEqual([LOST_METER.id, HOT_CASE.id]);
});

it('means by the key the worst that waits', () => {
  const seen = { ...HOT_CASE, state: 'acknowledged' as const };
  expect(topUnacknowledged([LOST_METER, seen, LOW_LOGIC])?.id).toBe(LOW_LOGIC.id);
  expect(topUnacknowledged([seen])).toBeNull();
});

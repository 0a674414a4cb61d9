import { describe, expect, it } from 'vitest';
import { alarmState } from '../../../daemon/watch/alarm-state.js';
import {
  acknowledge,
  instrument,
  keepHeard,
  poweredCabin,
  PREDICTION,
  reading,
  SUPPLIED,
  type Watched,
} from './cabin.js';

const VOLTS = 'over-limit:logic.volts';
const CASE = 'outside-prediction:logic.case';

/** `active acknowledged retained`, as the columns of the table; retained is whether it is still listed. */
function facts(watched: Watched, id: string): string {
  const alarm = watched.alarm(id);
  if (alarm === undefined) return 'inactive acknowledged -';
  return `${alarm.active ? 'active' : 'inactive'} ${alarm.acknowledged ? 'acknowledged' : 'unacknowledged'} retained`;
}

describe('the sequence of OPC 10000-9, annex B, without its confirming (columns from memory)', () => {
  const hot = (watched: Watched, fromMs: number) =>
    watched.hold(fromMs, fromMs + 8000, 'probes t1', 80, 'degC');
  const cooled = (watched: Watched, fromMs: number) =>
    watched.hold(fromMs, fromMs + 8000, 'probes t1', 55, 'degC');

  it('goes active, is acknowledged, goes inactive; then active, inactive, acknowledged', () => {
    const watched = poweredCabin();
    const seen = [facts(watched, CASE)];
    const look = (): void => void seen.push(facts(watched, CASE));
    hot(watched, 500);
    look();
    watched.feed(acknowledge(9000, CASE));
    look();
    cooled(watched, 10_000);
    look();
    hot(watched, 100_000);
    look();
    cooled(watched, 200_000);
    look();
    watched.feed(acknowledge(210_000, CASE));
    look();
    expect(seen).toEqual([
      'inactive acknowledged -',
      'active unacknowledged retained',
      'active acknowledged retained',
      'inactive acknowledged -',
      'active unacknowledged retained',
      'inactive unacknowledged retained',
      'inactive acknowledged -',
    ]);
  });

  it('a latched one is reset only after its return and its acknowledging (5.8)', () => {
    const watched = poweredCabin().feed(reading(600, 'meter volts', 6), acknowledge(700, VOLTS));
    expect(alarmState(watched.alarm(VOLTS)!)).toBe('acknowledged');
    watched.hold(1000, 5000, 'meter volts', 5);
    expect(alarmState(watched.alarm(VOLTS)!)).toBe('latched-acknowledged');
    watched.feed(acknowledge(6000, VOLTS));
    expect(watched.alarm(VOLTS)).toBeUndefined();
  });

  it('one that comes back before it was acknowledged asks again', () => {
    const watched = hot(poweredCabin(), 500);
    cooled(watched, 10_000);
    hot(watched, 100_000);
    expect(facts(watched, CASE)).toBe('active unacknowledged retained');
    expect(watched.told(CASE).map(([, change]) => change)).toEqual(['raised', 'returned', 'raised']);
  });
});

describe('delays: the condition must hold, or be clear, for the whole of it (OPC 10000-9, B.1.5)', () => {
  const raisedAt = (watched: Watched) => watched.told(CASE).find(([, change]) => change === 'raised')?.[0];
  const returnedAt = (watched: Watched) =>
    watched.told(CASE).find(([, change]) => change === 'returned')?.[0];

  it('a moment of health begins the on-delay anew', () => {
    const straight = poweredCabin().hold(500, 20_000, 'probes t1', 80, 'degC');
    const delayMs = raisedAt(straight)! - 500;
    expect(delayMs).toBeGreaterThan(0);
    const healedAtMs = 500 + delayMs - 500;
    const broken = poweredCabin()
      .hold(500, healedAtMs - 500, 'probes t1', 80, 'degC')
      .feed(reading(healedAtMs, 'probes t1', 55, 'degC'))
      .hold(healedAtMs + 500, 30_000, 'probes t1', 80, 'degC');
    expect(raisedAt(broken)).toBeGreaterThanOrEqual(healedAtMs + 500 + delayMs);
  });

  it('a moment of trouble begins the off-delay anew', () => {
    const hot = () => poweredCabin().hold(500, 20_000, 'probes t1', 80, 'degC');
    const straight = hot().hold(20_500, 40_000, 'probes t1', 55, 'degC');
    const delayMs = returnedAt(straight)! - 20_500;
    expect(delayMs).toBeGreaterThan(0);
    const hotAgainMs = 20_500 + delayMs - 500;
    const broken = hot()
      .hold(20_500, hotAgainMs - 500, 'probes t1', 55, 'degC')
      .feed(reading(hotAgainMs, 'probes t1', 80, 'degC'))
      .hold(hotAgainMs + 500, 60_000, 'probes t1', 55, 'degC');
    expect(returnedAt(broken)).toBe(hotAgainMs + 500 + delayMs);
  });

  it('a deadband holds back the clearing only: what just left the band is raised, just back in it stays', () => {
    const { high } = PREDICTION.points['logic.case']!;
    const guard = 1; // 10 counts of 0.1 degC
    const watched = poweredCabin().hold(500, 60_000, 'probes t1', high + guard + 0.3, 'degC');
    expect(watched.alarm(CASE)?.active).toBe(true);
    watched.hold(60_500, 90_000, 'probes t1', high + guard - 0.05, 'degC');
    expect(watched.alarm(CASE)?.active).toBe(true);
    watched.hold(90_500, 120_000, 'probes t1', high - 2, 'degC');
    expect(watched.alarm(CASE)?.active).toBe(false);
  });
});

describe('the first one (first-up, the trade’s word)', () => {
  it('is what began; what follows in the same supply isn’t', () => {
    const watched = poweredCabin(SUPPLIED).hold(600, 9000, 'meter volts', 18);
    const ofSupply = watched.state.alarms.filter(({ cause }) => cause.kind !== 'stale');
    expect(ofSupply.map(({ id, firstUp }) => [id, firstUp])).toEqual([
      ['passing-input:logic.volts', true],
      [VOLTS, false],
      ['outside-prediction:logic.volts', false],
    ]);
  });

  it('an instrument’s trouble is another matter', () => {
    const watched = poweredCabin().feed(
      reading(600, 'meter volts', 6),
      instrument(700, 'probes', 'lost', 'unplugged'),
    );
    keepHeard(watched, 1000, 9000, 'probes t1', 'probes t2', 'meter volts');
    expect(watched.alarm('instrument-lost:probes')?.firstUp).toBe(true);
    expect(watched.alarm('stale:probes.t1')?.firstUp).toBe(false);
  });

  it('is marked anew when everything had returned', () => {
    const watched = poweredCabin()
      .feed(reading(600, 'meter volts', 6))
      .hold(1000, 5000, 'meter volts', 5);
    watched.hold(100_000, 110_000, 'probes t1', 80, 'degC');
    expect(watched.alarm(CASE)?.firstUp).toBe(true);
  });
});

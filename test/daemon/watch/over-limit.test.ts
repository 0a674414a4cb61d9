import { describe, expect, it } from 'vitest';
import {
  acknowledge,
  CASE_RATING,
  LOGIC_HIGH,
  LOGIC_LOW,
  PLAN,
  poweredCabin,
  probe,
  reading,
  Watched,
} from './cabin.js';

const VOLTS = 'over-limit:logic.volts';
const CASE = 'over-limit:logic.case';

describe('when it is raised', () => {
  it('too many volts for the load: on the first reading, high and latched', () => {
    const watched = poweredCabin().feed(reading(500, 'meter volts', 5.5));
    expect(watched.told(VOLTS)).toEqual([[500, 'raised']]);
    expect(watched.alarm(VOLTS)).toMatchObject({
      priority: 'high',
      latched: true,
      cause: { kind: 'over-limit', point: 'logic.volts', value: 5.5, unit: 'V', limit: LOGIC_HIGH },
    });
  });

  it('a rating passed by more than the noise: on the first reading', () => {
    const watched = poweredCabin().hold(500, 2000, 'probes t1', 90, 'degC');
    watched.feed(reading(2500, 'probes t1', 101, 'degC'));
    expect(watched.told(CASE)).toEqual([[2500, 'raised']]);
  });

  it('a rating just touched: when it has held for a second', () => {
    const watched = poweredCabin().hold(500, 2000, 'probes t1', 96.9, 'degC');
    watched.feed(reading(2500, 'probes t1', 97, 'degC'), reading(3000, 'probes t1', 97, 'degC'));
    expect(watched.told(CASE)).toEqual([]);
    watched.feed(reading(3500, 'probes t1', 97, 'degC'));
    expect(watched.told(CASE)).toEqual([[3500, 'raised']]);
  });

  it('a rating touched by one reading among good ones: not', () => {
    const watched = poweredCabin().hold(500, 2000, 'probes t1', 96.9, 'degC');
    for (let atMs = 2500; atMs < 20_000; atMs += 1000) {
      watched.feed(reading(atMs, 'probes t1', 97, 'degC'), reading(atMs + 500, 'probes t1', 96.9, 'degC'));
    }
    expect(watched.told(CASE)).toEqual([]);
  });

  it('too few volts while the rest of the supply is up: when it has held for a second', () => {
    const watched = poweredCabin().feed(reading(500, 'meter volts', 4.1), reading(1000, 'meter volts', 4.1));
    expect(watched.told(VOLTS)).toEqual([]);
    watched.feed(reading(1500, 'meter volts', 4.1));
    expect(watched.told(VOLTS)).toEqual([[1500, 'raised']]);
    expect(watched.alarm(VOLTS)?.cause).toMatchObject({ limit: LOGIC_LOW });
  });
});

describe('a supply that is switched off', () => {
  const off = (): Watched =>
    new Watched().feed(probe(0, 'meter volts', 'logic.volts'), probe(0, 'board raw', 'reservoir.volts'));

  it('has no alarm for the volts that it doesn’t give', () => {
    const watched = off().hold(0, 6000, 'board raw', 0.02).hold(6000, 12_000, 'meter volts', 0);
    expect(watched.told(VOLTS)).toEqual([]);
    expect(watched.verdicts('logic.volts')).toEqual(['outside']);
  });

  it('a dead rail beside a charged reservoir is no supply switched off', () => {
    const watched = off()
      .feed(reading(0, 'board raw', 20))
      .hold(500, 1500, 'meter volts', 0);
    expect(watched.told(VOLTS)).toEqual([[1500, 'raised']]);
  });

  it('a reservoir that was charged when it fell silent isn’t taken for discharged', () => {
    const watched = off()
      .feed(reading(0, 'board raw', 20))
      .hold(10_000, 11_000, 'meter volts', 0);
    expect(watched.told(VOLTS)).toEqual([[11_000, 'raised']]);
  });

  it('ends the alarm of too few volts: switched off is what was asked for', () => {
    const watched = poweredCabin().hold(500, 1500, 'meter volts', 4.1).feed(acknowledge(1600, VOLTS));
    watched.feed(reading(1800, 'board raw', 0.5)).hold(2000, 5000, 'meter volts', 0.1);
    expect(watched.alarm(VOLTS)).toMatchObject({ active: false, returnedAtMs: 5000 });
  });

  it('never excuses too much', () => {
    const watched = off().feed(reading(0, 'board raw', 0.02), reading(0, 'meter volts', 5.6));
    expect(watched.told(VOLTS)).toEqual([[0, 'raised']]);
  });
});

describe('when it returns: the deadband applies to clearing only (OPC 10000-9, B.1.5)', () => {
  it('just under the limit is not back', () => {
    const watched = poweredCabin()
      .feed(reading(500, 'meter volts', 5.5))
      .hold(1000, 30_000, 'meter volts', 5.4999);
    expect(watched.alarm(VOLTS)?.active).toBe(true);
    watched.hold(30_500, 33_500, 'meter volts', 5.3);
    expect(watched.alarm(VOLTS)?.active).toBe(false);
  });

  it('a noisy channel whose deadband is wider than the room still returns at what is predicted', () => {
    const watched = poweredCabin().feed(reading(500, 'meter volts', 5.6));
    for (let atMs = 1000; atMs < 20_000; atMs += 500) {
      watched.feed(reading(atMs, 'meter volts', atMs % 1000 === 0 ? 4.95 : 5.2));
    }
    expect(watched.alarm(VOLTS)?.active).toBe(false);
  });

  it('an overload in between shows nothing: the off-delay begins anew', () => {
    const watched = poweredCabin()
      .feed(reading(500, 'meter volts', 7))
      .hold(1000, 3500, 'meter volts', 5);
    watched.feed({
      kind: 'reading',
      atMs: 3700,
      instrument: 'meter',
      channel: 'volts',
      value: null,
      unit: 'V',
      mark: 'overload',
    });
    watched.hold(4000, 6500, 'meter volts', 5);
    expect(watched.alarm(VOLTS)?.active).toBe(true);
    watched.feed(reading(7000, 'meter volts', 5));
    expect(watched.alarm(VOLTS)?.active).toBe(false);
  });
});

describe('a second limit', () => {
  const melts = { kind: 'damage', side: 'high', value: 150, why: 'solder goes soft' } as const;
  const base = PLAN.prediction.points['logic.case'];
  if (base === undefined) throw new Error('the cabin has no logic.case');
  const points = { ...PLAN.prediction.points, 'logic.case': { ...base, limits: [CASE_RATING, melts] } };
  const plan = { ...PLAN, prediction: { ...PLAN.prediction, points } };

  it('crossed while acknowledged asks again and latches', () => {
    const watched = new Watched(plan)
      .feed(probe(0, 'probes t1', 'logic.case'))
      .hold(0, 3000, 'probes t1', 149, 'degC');
    watched.feed(acknowledge(3100, CASE), reading(3500, 'probes t1', 150, 'degC'));
    expect(watched.told(CASE).at(-1)).toEqual([3500, 'worse']);
    expect(watched.alarm(CASE)).toMatchObject({
      acknowledged: false,
      latched: true,
      cause: { limit: melts },
    });
  });

  it('crossed once keeps it latched when only the first is crossed the next time', () => {
    const watched = new Watched(plan).feed(
      probe(0, 'probes t1', 'logic.case'),
      reading(0, 'probes t1', 151, 'degC'),
    );
    watched.hold(500, 4000, 'probes t1', 55, 'degC').hold(4500, 6000, 'probes t1', 104, 'degC');
    expect(watched.alarm(CASE)).toMatchObject({ active: true, latched: true, cause: { limit: CASE_RATING } });
  });

  it('left again while the first is still crossed asks nobody', () => {
    const watched = new Watched(plan)
      .feed(probe(0, 'probes t1', 'logic.case'))
      .hold(0, 3000, 'probes t1', 151, 'degC');
    watched.feed(acknowledge(3100, CASE)).hold(3500, 9000, 'probes t1', 149, 'degC');
    expect(watched.told(CASE).at(-1)).toEqual([3100, 'acknowledged']);
    expect(watched.alarm(CASE)?.active).toBe(true);
  });
});

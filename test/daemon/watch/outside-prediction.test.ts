import { describe, expect, it } from 'vitest';
import { acknowledge, poweredCabin, probe, reading, Watched } from './cabin.js';

const VOLTS = 'outside-prediction:logic.volts';
const CASE = 'outside-prediction:logic.case';
const OVER_CASE = 'over-limit:logic.case';

describe('when it is raised', () => {
  it('three seconds after it has settled there, medium', () => {
    const watched = poweredCabin().hold(500, 4500, 'meter volts', 5.3);
    expect(watched.effects).toContainEqual(
      expect.objectContaining({ kind: 'settled', atMs: 2000, value: 5.3 }),
    );
    expect(watched.told(VOLTS)).toEqual([]);
    watched.feed(reading(5000, 'meter volts', 5.3));
    expect(watched.told(VOLTS)).toEqual([[5000, 'raised']]);
    expect(watched.alarm(VOLTS)).toMatchObject({ priority: 'medium', latched: false });
  });

  it('not by time alone: a slow meter needs three readings too', () => {
    const watched = poweredCabin().feed(
      reading(500, 'probes t1', 70, 'degC'),
      reading(6500, 'probes t1', 70, 'degC'),
    );
    expect(watched.told(CASE)).toEqual([]);
  });

  it('not when one reading among them is in doubt: the condition must hold the whole delay', () => {
    // The meter: ±(0.5 % + 2 counts) of 1 mV, so 5.12 V could still be 5.1 V.
    const watched = poweredCabin()
      .hold(500, 4000, 'meter volts', 5.3)
      .feed(reading(4500, 'meter volts', 5.12));
    watched.hold(5000, 7500, 'meter volts', 5.3);
    expect(watched.told(VOLTS)).toEqual([]);
  });

  it('not for a part that is cooler than predicted, as every part is while it warms up', () => {
    const watched = poweredCabin().hold(500, 60_000, 'probes t1', 23, 'degC');
    expect(watched.verdicts('logic.case').at(-1)).toBe('outside');
    expect(watched.told(CASE)).toEqual([]);
  });

  it('not while the supply is off, but once it is on', () => {
    const watched = new Watched().feed(
      probe(0, 'board raw', 'reservoir.volts'),
      probe(0, 'meter volts', 'lamps.volts'),
    );
    watched.hold(0, 10_000, 'board raw', 0.1).hold(10_000, 20_000, 'meter volts', 0);
    expect(watched.state.alarms.filter(({ cause }) => cause.kind === 'outside-prediction')).toEqual([]);
    watched.feed(reading(20_500, 'board raw', 20)).hold(21_000, 24_000, 'meter volts', 0);
    expect(watched.told('outside-prediction:lamps.volts')).toEqual([[24_000, 'raised']]);
  });
});

describe('a rail that never stands still', () => {
  it('is found all the same: it hops between two values, both outside', () => {
    const watched = poweredCabin();
    for (let atMs = 500; atMs <= 20_000; atMs += 500) {
      watched.feed(reading(atMs, 'board raw', atMs % 2000 < 1000 ? 12 : 14));
    }
    expect(watched.alarm('outside-prediction:reservoir.volts')?.active).toBe(true);
  });
});

describe('when it returns', () => {
  it('clears inside the band and not at its edge', () => {
    const watched = poweredCabin().hold(500, 6000, 'board raw', 24).hold(6500, 30_000, 'board raw', 23);
    expect(watched.alarm('outside-prediction:reservoir.volts')?.active).toBe(true);
    watched.hold(30_500, 35_500, 'board raw', 21);
    expect(watched.alarm('outside-prediction:reservoir.volts')?.active).toBe(false);
  });

  it('comes back worse when it goes to the other side', () => {
    const watched = poweredCabin()
      .hold(500, 6000, 'board raw', 24)
      .feed(acknowledge(6100, 'outside-prediction:reservoir.volts'));
    watched.hold(6500, 8000, 'board raw', 12);
    expect(watched.told('outside-prediction:reservoir.volts').at(-1)).toEqual([8000, 'worse']);
  });
});

describe('beside an over-limit alarm of the same point', () => {
  it('is explained by it, and told so, when the limit is crossed later', () => {
    const watched = poweredCabin()
      .hold(500, 4000, 'probes t1', 80, 'degC')
      .hold(4500, 6000, 'probes t1', 104, 'degC');
    expect(watched.alarm(CASE)?.suppressedBy).toEqual([OVER_CASE]);
    expect(watched.told(CASE).at(-1)?.[1]).toBe('suppressed');
  });

  it('is raised explained when the limit was crossed before', () => {
    const watched = poweredCabin().hold(500, 6000, 'probes t1', 104, 'degC');
    expect(watched.told(CASE).map(([, change]) => change)).toEqual(['raised']);
    expect(watched.alarm(CASE)?.suppressedBy).toEqual([OVER_CASE]);
  });

  it('stands for itself again when the limit alarm returns, known to whoever acknowledged that', () => {
    const watched = poweredCabin()
      .hold(500, 6000, 'probes t1', 104, 'degC')
      .feed(acknowledge(6100, OVER_CASE));
    watched.hold(6500, 12_000, 'probes t1', 80, 'degC');
    expect(watched.alarm(OVER_CASE)).toBeUndefined();
    expect(watched.alarm(CASE)).toMatchObject({ active: true, acknowledged: true, suppressedBy: [] });
  });

  it('asks for its person when nobody has acknowledged the limit alarm', () => {
    const watched = poweredCabin()
      .hold(500, 6000, 'probes t1', 104, 'degC')
      .hold(6500, 12_000, 'probes t1', 80, 'degC');
    expect(watched.alarm(CASE)).toMatchObject({ active: true, acknowledged: false, suppressedBy: [] });
  });
});

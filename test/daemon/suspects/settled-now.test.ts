import { describe, expect, it } from 'vitest';
import { SettledNow } from '../../../daemon/suspects/settled-now.js';
import type { Effect } from '../../../daemon/watch/effects.js';
import { beginWatch } from '../../../daemon/watch/watch.js';
import { PLAN, poweredCabin, reading } from '../watch/cabin.js';

const NOBODY = beginWatch(PLAN);

const settled = (point: string, value: number, standardUncertainty = 0.01): Effect => ({
  kind: 'settled',
  atMs: 0,
  point,
  value,
  standardUncertainty,
  count: 10,
});
const heading = (atMs: number, typical: number, halfWidth: number): Effect => ({
  kind: 'forecast',
  atMs,
  point: 'logic.case',
  change: null,
  forecast: {
    settled: { low: typical - halfWidth, typical, high: typical + halfWidth },
    timeConstantS: { low: 100, typical: 200, high: 300 },
    crossings: [],
  },
});

const ripple = (point: string, halves: 'both' | 'uneven' | 'one'): Effect => ({
  kind: 'ripple',
  atMs: 0,
  point,
  ripple: {
    kind: 'found',
    mainsHertz: 50,
    mainsHertzDeviation: 0.01,
    periods: 10,
    peakToPeak: 1,
    rms: 0.3,
    mean: 20,
    valley: 19.5,
    atMains: halves === 'one' ? 0.5 : 0,
    atTwiceMains: halves === 'one' ? 0.2 : 0.5,
    atFourTimesMains: 0.1,
    strongest: halves === 'one' ? 'mains' : 'twice-mains',
    halves,
    rest: { peakToPeak: 0, rms: 0, oscillation: null },
    resolution: { stepVolts: null, stepsInRipple: null, coarse: false },
    clipped: null,
  },
});

describe('what is known of the supply now', () => {
  it('keeps one value of each point, the newest, however many points one meter measured', () => {
    const now = new SettledNow();
    now.take(settled('logic.volts', 5), NOBODY);
    now.take(settled('reservoir.volts', 20), NOBODY);
    now.take(settled('logic.volts', 5.1), NOBODY);
    expect(now.readings().map(({ point, value }) => [point, value])).toEqual([
      ['logic.volts', 5.1],
      ['reservoir.volts', 20],
    ]);
  });

  it('a value within its own doubt of the one before is nothing new, a much surer one is', () => {
    const now = new SettledNow();
    expect(now.take(settled('logic.volts', 5, 0.02), NOBODY)).toBe(true);
    expect(now.take(settled('logic.volts', 5.01, 0.02), NOBODY)).toBe(false);
    expect(now.take(settled('logic.volts', 5.01, 0.005), NOBODY)).toBe(true);
  });

  it('takes a temperature by where it is going, once that is known well enough (90 % is ±1.645 deviations)', () => {
    const now = new SettledNow();
    now.take(heading(0, 45, 1), NOBODY);
    expect(now.take(heading(119_000, 45, 1), NOBODY), 'the quick part alone').toBe(false);
    expect(now.take(heading(120_000, 70, 20), NOBODY)).toBe(false);
    expect(now.take(heading(130_000, 70, 3.29), NOBODY)).toBe(true);
    expect(now.readings()[0]).toMatchObject({ point: 'logic.case', value: 70 });
    expect(now.readings()[0]?.standardUncertainty).toBeCloseTo(2, 6);
  });

  it('takes one that will get too hot at once, however far that is (65 degrees C is predicted at most)', () => {
    const now = new SettledNow();
    expect(now.take(heading(0, 64, 1), NOBODY)).toBe(false);
    expect(now.take(heading(5000, 150, 50), NOBODY)).toBe(false);
    expect(now.take(heading(10_000, 150, 40), NOBODY)).toBe(true);
  });

  it('doubts a quarter of what a temperature has yet before it', () => {
    const { state } = poweredCabin();
    const now = new SettledNow();
    now.take(heading(0, 75, 3.29), state);
    now.take(heading(200_000, 75, 3.29), state);
    // 20 K to go from 55 degrees C: sqrt(2^2 + 5^2).
    expect(now.readings()[0]?.standardUncertainty).toBeCloseTo(5.385, 3);
  });

  it('takes the frequency of the reservoir from a capture, half of it where one half of the mains is missing', () => {
    const now = new SettledNow();
    expect(now.take(ripple('logic.ripple', 'both'), NOBODY)).toBe(false);
    expect(now.take(ripple('reservoir.ripple', 'uneven'), NOBODY)).toBe(false);
    now.take(ripple('reservoir.ripple', 'both'), NOBODY);
    expect(now.readings()).toMatchObject([{ point: 'reservoir.hertz', value: 100 }]);
    now.take(ripple('reservoir.volts', 'one'), NOBODY);
    expect(now.readings()).toMatchObject([{ point: 'reservoir.hertz', value: 50 }]);
  });

  it('leaves out a point that the design does not know', () => {
    const now = new SettledNow();
    expect(now.take(settled('shed.volts', 5), NOBODY)).toBe(false);
  });
});

describe('a supply that was switched off', () => {
  it('forgets everything: it may be another supply when it comes on again', () => {
    const now = new SettledNow();
    now.take(settled('reservoir.volts', 20), NOBODY);
    now.take(settled('logic.volts', 0.01), NOBODY);
    expect(now.readings()).toEqual([]);
  });

  it('one dead rail beside a reservoir that is on is no reason to forget', () => {
    const { state } = poweredCabin().feed(reading(500, 'board raw', 20));
    const now = new SettledNow();
    now.take(settled('reservoir.volts', 20), state);
    now.take(settled('logic.volts', 0.01), state);
    expect(now.readings().map(({ point }) => point)).toEqual(['reservoir.volts']);
  });

  it('a rail that jumps leaves only what is measured now: all else was read before', () => {
    const { state } = poweredCabin();
    const now = new SettledNow();
    now.take(settled('lamps.volts', 12), state);
    now.take(settled('reservoir.volts', 20), state);
    now.take(settled('logic.volts', 5), state);
    now.take(settled('logic.volts', 5.1), state);
    expect(now.readings()).toHaveLength(3);
    now.take(settled('logic.volts', 18), state);
    expect(now.readings().map(({ point }) => point)).toEqual(['reservoir.volts', 'logic.volts']);
  });
});

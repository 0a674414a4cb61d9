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
const heading = (typical: number, halfWidth: number): Effect => ({
  kind: 'forecast',
  atMs: 0,
  point: 'logic.case',
  change: null,
  forecast: {
    settled: { low: typical - halfWidth, typical, high: typical + halfWidth },
    timeConstantS: { low: 100, typical: 200, high: 300 },
    crossings: [],
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
    expect(now.take(heading(70, 20), NOBODY)).toBe(false);
    expect(now.take(heading(70, 3.29), NOBODY)).toBe(true);
    expect(now.readings()[0]).toMatchObject({ point: 'logic.case', value: 70 });
    expect(now.readings()[0]?.standardUncertainty).toBeCloseTo(2, 6);
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
});

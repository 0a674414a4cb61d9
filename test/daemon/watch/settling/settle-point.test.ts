import { describe, expect, it } from 'vitest';
import type { SettledEffect } from '../../../../daemon/watch/effects.js';
import type { ChannelPlan } from '../../../../daemon/watch/plan.js';
import { overload, PLAN, poweredCabin, probe, reading, Watched } from '../cabin.js';
import { normalNoise, uniformNoise } from '../random.js';

/** The cabin with a meter that reads so often; its probe came to the logic rail at 0 ms. */
function meterAt(readingsPerSecond: number, accuracy: ChannelPlan['accuracy'] = undefined): Watched {
  const meter: ChannelPlan = {
    instrument: 'meter',
    channel: 'volts',
    intervalMs: 1000 / readingsPerSecond,
    ...(accuracy !== undefined && { accuracy }),
  };
  return new Watched({ ...PLAN, channels: [meter] }).feed(probe(0, 'meter volts', 'logic.volts'));
}

/** So many readings from then on, each what `value` says at its time. */
function feed(
  watched: Watched,
  fromMs: number,
  count: number,
  everyMs: number,
  value: (n: number) => number,
): Watched {
  for (let n = 0; n < count; n += 1)
    watched.feed(reading(Math.round(fromMs + n * everyMs), 'meter volts', value(n)));
  return watched;
}

function settled(watched: Watched): SettledEffect[] {
  return watched.effects.filter((effect) => effect.kind === 'settled');
}

const rounded = (value: number, step: number): number => Math.round(value / step) * step;

describe.each([0.2, 1, 10, 50])('a meter with %d readings a second (seeds 1 to 20)', (rate) => {
  const everyMs = 1000 / rate;

  it('settles on the value, told once, with the noise counted in', () => {
    for (let seed = 1; seed <= 20; seed += 1) {
      const noise = normalNoise(seed);
      const watched = feed(meterAt(rate), 0, 60, everyMs, () => 5 + 0.002 * noise());
      const [first, ...more] = settled(watched);
      expect(more).toEqual([]);
      expect(Math.abs((first?.value ?? 0) - 5)).toBeLessThan(0.006);
      expect(first?.atMs).toBeGreaterThanOrEqual(1000);
      expect(first?.atMs).toBeLessThanOrEqual(Math.max(2500, 8 * everyMs));
      expect(watched.verdicts('logic.volts')).toEqual(['inside']);
    }
  });

  it('does so on a display whose last digit moves or stands still', () => {
    for (let seed = 1; seed <= 20; seed += 1) {
      const noise = normalNoise(seed);
      const accuracy = { percent: 0.5, counts: 2, resolution: 0.01 };
      const watched = feed(meterAt(rate, accuracy), 0, 60, everyMs, () =>
        rounded(5.004 + 0.003 * noise(), 0.01),
      );
      expect(settled(watched)).toHaveLength(1);
    }
    expect(settled(feed(meterAt(rate), 0, 60, everyMs, () => 5))).toHaveLength(1);
  });

  it('is not judged while its probe floats, and is once it has contact', () => {
    for (let seed = 1; seed <= 20; seed += 1) {
      const uniform = uniformNoise(seed);
      // A bare lead picks up the mains, which the meter's own pace turns into anything.
      const floats = Math.min(20, Math.floor(50_000 / everyMs));
      const watched = feed(meterAt(rate), 0, floats, everyMs, () => 6 * uniform() - 1);
      expect(watched.verdicts('logic.volts').filter((one) => one !== 'outside')).toEqual(
        watched.verdicts('logic.volts').filter((one) => one === null),
      );
      expect(settled(watched)).toEqual([]);
      feed(watched, floats * everyMs, 60, everyMs, () => 5.01);
      expect(watched.verdicts('logic.volts').at(-1)).toBe('inside');
      expect(settled(watched)).toHaveLength(1);
    }
  });
});

describe('what is not judged', () => {
  it('contact bounce on a point without limits: no verdict until it holds', () => {
    const watched = poweredCabin().feed(probe(100, 'meter volts', 'lamps.volts'));
    [0, 12, 0.4, 11.9, 3, 12, 0].forEach((volts, n) =>
      watched.feed(reading(500 + 500 * n, 'meter volts', volts)),
    );
    expect(watched.verdicts('lamps.volts')).toEqual([]);
    watched.hold(4000, 6000, 'meter volts', 12);
    expect(watched.verdicts('lamps.volts')).toEqual(['inside']);
  });

  it('a range switch: the first readings of the new range, then the value again', () => {
    const accuracy = {
      percent: 0.5,
      counts: 2,
      resolution: 0.01,
      ranges: [{ up_to: 6, percent: 0.5, counts: 2, resolution: 0.001 }],
    };
    const channels = PLAN.channels.map((one) => (one.instrument === 'meter' ? { ...one, accuracy } : one));
    const watched = new Watched({ ...PLAN, channels }).feed(probe(0, 'meter volts', 'lamps.volts'));
    watched.hold(0, 2000, 'meter volts', 5.999).hold(2500, 4000, 'meter volts', 6.2);
    watched.hold(4500, 7000, 'meter volts', 12);
    expect(settled(watched).map(({ value }) => value)).toEqual([5.999, 6.2, 12]);
  });

  it('but a limit is, at once and on the bare value', () => {
    const watched = poweredCabin().feed(
      probe(100, 'board raw', 'logic.volts'),
      reading(200, 'board raw', 5.6),
    );
    expect(watched.told('over-limit:logic.volts')).toEqual([[200, 'raised']]);
    expect(watched.verdicts('logic.volts').at(-1)).toBe('outside');
  });
});

describe('what is judged although it moves', () => {
  it('a rail that sags slowly under its load', () => {
    const watched = poweredCabin();
    for (let n = 0; n < 120; n += 1) watched.feed(reading(500 + 500 * n, 'board raw', 20 - 0.03 * n));
    expect(watched.verdicts('reservoir.volts')).toEqual(['inside', 'outside']);
  });

  it('a case that warms up, for which settled is told only when it has', () => {
    const watched = poweredCabin().feed(probe(100, 'probes t1', null), probe(200, 'probes t1', 'logic.case'));
    // 33 K above 22 degrees with a time constant of 200 s.
    for (let s = 1; s <= 1800; s += 1)
      watched.feed(reading(1000 * s, 'probes t1', rounded(22 + 33 * (1 - Math.exp(-s / 200)), 0.1), 'degC'));
    expect(watched.verdicts('logic.case').slice(2)).not.toContain(null);
    const told = settled(watched).filter(({ point }) => point === 'logic.case');
    expect(told.length).toBeGreaterThan(0);
    for (const { value, count } of told) {
      expect(value).toBeGreaterThan(54);
      expect(count).toBeGreaterThanOrEqual(120);
    }
  });

  it('one spike on a rail that stands: the next reading counts again', () => {
    const watched = poweredCabin().feed(reading(500, 'board raw', 31), reading(1000, 'board raw', 20));
    expect(watched.verdicts('reservoir.volts')).toEqual(['inside', null, 'inside']);
    expect(settled(watched).filter(({ atMs }) => atMs > 0)).toEqual([]);
  });
});

describe('what settled says', () => {
  it('combines half of the meter’s half-width with the deviation of the mean (JCGM 100:2008, 4.2.3, 4.3.4, 5.1.2)', () => {
    const accuracy = { percent: 0.5, counts: 2, resolution: 0.001 };
    const watched = feed(meterAt(2, accuracy), 0, 4, 500, (n) => [5, 5.004, 4.996, 5][n] ?? NaN);
    // Deviation of the four: root of (2 x 0.004^2 / 3), over 2; half of 0.5 % of 5 V and 2 counts of 1 mV: 13.5 mV.
    const mean = Math.sqrt((2 * 0.004 ** 2) / 3) / 2;
    expect(settled(watched)).toMatchObject([{ atMs: 1500, point: 'logic.volts', count: 4 }]);
    expect(settled(watched)[0]?.value).toBeCloseTo(5, 9);
    expect(settled(watched)[0]?.standardUncertainty).toBeCloseTo(Math.hypot(0.0135, mean), 6);
  });

  it('is told again after the value moved, and after the probe came back', () => {
    const watched = poweredCabin().hold(500, 3000, 'board raw', 19).hold(3500, 6000, 'board raw', 19.03);
    watched.feed(probe(6100, 'board raw', null), probe(6200, 'board raw', 'reservoir.volts'));
    watched.hold(6500, 9000, 'board raw', 19);
    expect(
      settled(watched)
        .filter(({ atMs }) => atMs > 0)
        .map(({ value }) => value),
    ).toEqual([19, 19]);
  });

  it('is told at once of what a person typed: they looked', () => {
    const channels = PLAN.channels.map((one): ChannelPlan => ({ ...one, typed: true }));
    const watched = new Watched({ ...PLAN, channels }).feed(
      probe(0, 'meter volts', 'logic.volts'),
      reading(500, 'meter volts', 5),
      reading(1500, 'meter volts', 5),
    );
    expect(settled(watched)).toMatchObject([{ atMs: 500, value: 5, count: 1 }]);
    expect(watched.verdicts('logic.volts')).toEqual(['inside']);
  });

  it('an overload in between doesn’t end it: a meter looks for its range', () => {
    const watched = poweredCabin().feed(overload(500, 'meter volts'), reading(1000, 'meter volts', 5));
    expect(watched.verdicts('logic.volts')).toEqual(['inside', null, 'inside']);
  });
});

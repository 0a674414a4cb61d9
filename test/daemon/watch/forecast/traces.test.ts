import { beforeAll, describe, expect, it } from 'vitest';
import { NOTHING_KNOWN, type WarmingPrior } from '../../../../daemon/watch/forecast/prior.js';
import { normalNoise } from '../random.js';
import { leads, listen, middle, recognised, share, wrongs, type Told } from './listen.js';
import { loadTraces, type Trace } from './traces.js';

const PATIENCE_MS = 400_000;

describe('warm-ups from an outside integrator, without knowing the design', () => {
  let all: readonly Told[];
  beforeAll(() => {
    all = loadTraces().map((trace) => listen(trace, NOTHING_KNOWN));
  }, PATIENCE_MS);

  it('says of at most 2 % of limits that stay out of reach, or are not yet in reach, that they are ahead', () => {
    expect(wrongs(all).length).toBeGreaterThan(200);
    expect(share(wrongs(all))).toBeLessThanOrEqual(0.02);
  });

  it('says so for 65 % of the way before a limit is crossed, in the middle, and misses at most 3 %', () => {
    expect(leads(all).length).toBeGreaterThan(250);
    expect(middle(leads(all))).toBeGreaterThanOrEqual(0.65);
    expect(share(leads(all).map((lead) => lead <= 0))).toBeLessThanOrEqual(0.03);
  });

  it('knows the settled temperature within 4 K at half the rise and within 0.5 K at 85 % of it, in the middle', () => {
    expect(middle(all.flatMap(({ atHalf }) => atHalf.map(({ offK }) => offK)))).toBeLessThan(4);
    expect(middle(all.flatMap(({ atMost }) => atMost.map(({ offK }) => offK)))).toBeLessThan(0.5);
  });

  it.each(['atHalf', 'atMost'] as const)(
    'its 90 %% range holds the settled temperature in 85 to 95 %% (%s)',
    (when) => {
      const held = share(all.flatMap((told) => told[when].map(({ isWithin }) => isWithin)));
      expect(held).toBeGreaterThanOrEqual(0.85);
      expect(held).toBeLessThanOrEqual(0.95);
    },
  );

  it('tells no change of at least 99 % of quiet warm-ups', () => {
    const quiet = all.filter(({ trace }) =>
      trace.truth.events.every(({ type }) => type === 'missing_samples'),
    );
    expect(quiet.length).toBeGreaterThan(60);
    expect(share(quiet.map(({ changes }) => changes.length > 0))).toBeLessThanOrEqual(0.01);
  });

  it('says of at most 1 % that their reading stands still, and of none that a probe reads in tenths', () => {
    const standing = all.filter(({ changes }) => changes.some(([, change]) => change === 'stuck'));
    expect(standing.length / all.length).toBeLessThanOrEqual(0.01);
    expect(standing.filter(({ trace }) => trace.lsb_C < 1)).toEqual([]);
  });

  it.each([
    ['power_off', ['switched-off'], 0.95],
    ['sensor_off', ['sensor-lifted'], 0.95],
    // 24 of 25: one adds 1 % of power.
    ['load_step', ['heats-more', 'heats-less'], 0.95],
  ] as const)(
    'tells within half a minute what changed, where it can be seen at all: %s as %s, in %d of them',
    (event, names, least) => {
      const seen = all.flatMap((told) => recognised(told, event, names));
      expect(seen.length).toBeGreaterThan(10);
      expect(share(seen)).toBeGreaterThanOrEqual(least);
    },
  );
});

describe('the same with power and K/W known, each wrong by a normal 20 % (seed 1000 and on)', () => {
  let all: readonly Told[];
  beforeAll(() => {
    all = loadTraces().map((trace, place) => listen(trace, designOf(trace, normalNoise(1000 + 7 * place))));
  }, PATIENCE_MS);

  it('says of at most 1 % of limits that stay out of reach, or are not yet in reach, that they are ahead', () => {
    expect(wrongs(all).length).toBeGreaterThan(200);
    expect(share(wrongs(all))).toBeLessThanOrEqual(0.01);
  });

  it('says so for 75 % of the way before a limit is crossed, in the middle', () => {
    expect(leads(all).length).toBeGreaterThan(250);
    expect(middle(leads(all))).toBeGreaterThanOrEqual(0.75);
  });
});

function designOf({ truth }: Trace, noise: () => number): WarmingPrior {
  const { steady_case_C, local_ambient_C, power_W } = truth.segments.find((one) => one.power_W > 0)!;
  const power = power_W * Math.max(0.3, 1 + 0.2 * noise());
  const resistance = ((steady_case_C - local_ambient_C) / power_W) * Math.max(0.3, 1 + 0.2 * noise());
  const riseK = power * resistance;
  // Errors of 20 % each add up to 28 %.
  return { ...NOTHING_KNOWN, riseK, riseDeviationK: 0.28 * riseK, resistanceKPerW: resistance };
}

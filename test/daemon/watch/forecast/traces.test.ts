import { beforeAll, describe, expect, it } from 'vitest';
import type { Change } from '../../../../daemon/watch/forecast/change.js';
import { NOTHING_KNOWN, type WarmingPrior } from '../../../../daemon/watch/forecast/prior.js';
import { normalNoise } from '../random.js';
import { leads, listen, middle, share, wrongs, type Told } from './listen.js';
import { loadTraces, type Trace } from './traces.js';

const HALF_MINUTE = 30;
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

  it.each([
    ['power_off', ['switched-off'], 0.9],
    ['sensor_off', ['sensor-lifted'], 0.9],
    ['load_step', ['heats-more', 'heats-less'], 0.8],
  ] as const)('tells within half a minute what changed: %s as %s, in %d of them', (event, names, least) => {
    const seen = all.flatMap((told) => recognised(told, event, names));
    expect(seen.length).toBeGreaterThan(10);
    expect(share(seen)).toBeGreaterThanOrEqual(least);
  });
});

describe('the same with power and K/W known, each wrong by a normal 20 % (seed 1000 and on)', () => {
  let all: readonly Told[];
  beforeAll(() => {
    all = loadTraces().map((trace, place) => listen(trace, designOf(trace, normalNoise(1000 + 7 * place))));
  }, PATIENCE_MS);

  it('says of at most 1.5 % of limits that stay out of reach, or are not yet in reach, that they are ahead', () => {
    expect(wrongs(all).length).toBeGreaterThan(200);
    expect(share(wrongs(all))).toBeLessThanOrEqual(0.015);
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

/** Whether each of the trace's events of this type was told as one of these changes. */
function recognised({ trace, changes }: Told, event: string, names: readonly Change[]): readonly boolean[] {
  if (trace.sample_rate_Hz < 1) return [];
  return trace.truth.events.flatMap(({ type, t_s }) => {
    if (type !== event || t_s === null || isNoStep(trace, t_s)) return [];
    return [changes.some(([at, name]) => at >= t_s && at <= t_s + HALF_MINUTE && names.includes(name))];
  });
}

/** Some load steps were cut off at 10 W and change nothing. */
function isNoStep({ truth }: Trace, seconds: number): boolean {
  const at = truth.segments.findIndex(({ t_start_s }) => t_start_s === seconds);
  const [before, after] = [truth.segments[at - 1], truth.segments[at]];
  return (
    before !== undefined && after !== undefined && Math.abs(after.steady_case_C - before.steady_case_C) < 5
  );
}

import { beforeAll, describe, expect, it } from 'vitest';
import type { Change } from '../../../../daemon/watch/forecast/change.js';
import { followTemperature, NOT_FOLLOWED } from '../../../../daemon/watch/forecast/follow.js';
import { NOTHING_KNOWN } from '../../../../daemon/watch/forecast/prior.js';
import { causeOf, loadTraces, readingsOf, segmentAt, type Trace } from './traces.js';

const LIMITS = [70, 85, 105];
const HALF_MINUTE = 30;

/** What was said of one trace without knowing its design. */
interface Told {
  readonly trace: Trace;
  /** By limit: when it was first said to be ahead, s. */
  readonly ahead: ReadonlyMap<number, number>;
  readonly changes: readonly (readonly [number, Change])[];
  /** Forecasts near half and 85 % of the rise: how far off, K, and whether the 90 % range held the truth. */
  readonly atHalf: readonly Judged[];
  readonly atMost: readonly Judged[];
}

interface Judged {
  readonly offK: number;
  readonly isWithin: boolean;
}

function listen(trace: Trace): Told {
  const ahead = new Map<number, number>();
  const changes: (readonly [number, Change])[] = [];
  const atHalf: Judged[] = [];
  const atMost: Judged[] = [];
  const lifted = trace.truth.sensor_off_s ?? Infinity;
  const context = { prior: NOTHING_KNOWN, limits: LIMITS, resolutionK: trace.lsb_C };
  let state = NOT_FOLLOWED;
  for (const [seconds, celsius] of readingsOf(trace)) {
    const { state: next, news } = followTemperature(state, seconds * 1000, celsius, context);
    state = next;
    if (news === null) continue;
    if (news.change !== null) changes.push([seconds, news.change]);
    if (seconds >= lifted) continue;
    for (const limit of news.heading) if (!ahead.has(limit)) ahead.set(limit, seconds);
    const { steady_case_C, power_W } = segmentAt(trace, seconds);
    const startC = state.warming?.fit.startC ?? celsius;
    if (news.forecast === null || power_W === 0 || Math.abs(steady_case_C - startC) < 10) continue;
    const { low, typical, high } = news.forecast.settled;
    const judged = {
      offK: Math.abs(typical - steady_case_C),
      isWithin: low <= steady_case_C && steady_case_C <= high,
    };
    const share = (celsius - startC) / (steady_case_C - startC);
    if (share > 0.45 && share < 0.55) atHalf.push(judged);
    if (share > 0.83 && share < 0.87) atMost.push(judged);
  }
  return { trace, ahead, changes, atHalf, atMost };
}

const middle = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;
const share = (values: readonly boolean[]): number => values.filter(Boolean).length / values.length;

describe('warm-ups from an outside integrator, without knowing the design', () => {
  let all: readonly Told[];
  beforeAll(() => {
    all = loadTraces().map(listen);
  }, 120_000);

  it('says of at most 2 % of limits that stay out of reach, or are not yet in reach, that they are ahead', () => {
    const wrong = all.flatMap(({ trace, ahead }) =>
      LIMITS.flatMap((limit) => {
        const crossing = trace.truth.crossing_time_s[String(limit)] ?? null;
        const told = ahead.get(limit);
        if (crossing !== null) {
          return told !== undefined && told < causeOf(trace, limit, crossing) - 2 ? [true] : [];
        }
        // Where power went off on the way there, it was ahead.
        const wasAhead = trace.truth.segments.some(({ steady_case_C }) => steady_case_C >= limit);
        return wasAhead ? [] : [told !== undefined];
      }),
    );
    expect(wrong.length).toBeGreaterThan(200);
    expect(share(wrong)).toBeLessThanOrEqual(0.02);
  });

  it('says so for 65 % of the way before a limit is crossed, in the middle, and misses at most 3 %', () => {
    const leads = all.flatMap(({ trace, ahead }) =>
      LIMITS.flatMap((limit) => {
        const crossing = trace.truth.crossing_time_s[String(limit)] ?? null;
        if (crossing === null || crossing > (trace.truth.sensor_off_s ?? Infinity)) return [];
        const cause = causeOf(trace, limit, crossing);
        const told = ahead.get(limit) ?? crossing;
        return told < cause - 2 ? [] : [Math.max(0, (crossing - told) / (crossing - cause))];
      }),
    );
    expect(leads.length).toBeGreaterThan(250);
    expect(middle(leads)).toBeGreaterThanOrEqual(0.65);
    expect(share(leads.map((lead) => lead <= 0))).toBeLessThanOrEqual(0.03);
  });

  it('knows the settled temperature within 4 K at half the rise and within 0.5 K at 85 % of it, in the middle', () => {
    expect(middle(all.flatMap(({ atHalf }) => atHalf.map(({ offK }) => offK)))).toBeLessThan(4);
    expect(middle(all.flatMap(({ atMost }) => atMost.map(({ offK }) => offK)))).toBeLessThan(0.5);
  });

  it('its 90 % range holds the settled temperature in 85 to 97 % at half the rise, and never in less after', () => {
    const half = share(all.flatMap(({ atHalf }) => atHalf.map(({ isWithin }) => isWithin)));
    expect(half).toBeGreaterThan(0.85);
    expect(half).toBeLessThan(0.97);
    expect(share(all.flatMap(({ atMost }) => atMost.map(({ isWithin }) => isWithin)))).toBeGreaterThan(0.85);
  });

  it('tells no change of at least 97 % of quiet warm-ups', () => {
    const quiet = all.filter(({ trace }) =>
      trace.truth.events.every(({ type }) => type === 'missing_samples'),
    );
    expect(quiet.length).toBeGreaterThan(60);
    expect(share(quiet.map(({ changes }) => changes.length > 0))).toBeLessThan(0.03);
  });

  it.each([
    ['power_off', 0.8],
    ['sensor_off', 0.8],
    ['load_step', 0.7],
  ])('tells within half a minute that something changed: %s, in %d of them', (event, least) => {
    const seen = all.flatMap(({ trace, changes }) => {
      if (trace.sample_rate_Hz < 1) return [];
      return trace.truth.events.flatMap(({ type, t_s }) => {
        if (type !== event || t_s === null || isNoStep(trace, t_s)) return [];
        return [changes.some(([at]) => at >= t_s && at <= t_s + HALF_MINUTE)];
      });
    });
    expect(seen.length).toBeGreaterThan(10);
    expect(share(seen)).toBeGreaterThan(least);
  });
});

/** Some load steps were cut off at 10 W and change nothing. */
function isNoStep({ truth }: Trace, seconds: number): boolean {
  const at = truth.segments.findIndex(({ t_start_s }) => t_start_s === seconds);
  const [before, after] = [truth.segments[at - 1], truth.segments[at]];
  return (
    before !== undefined && after !== undefined && Math.abs(after.steady_case_C - before.steady_case_C) < 5
  );
}

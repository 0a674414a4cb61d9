import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { followTemperature } from '../../../../daemon/watch/forecast/follow.js';
import { NOT_FOLLOWED, type FollowState, type News } from '../../../../daemon/watch/forecast/follow-state.js';
import { heatingCurve, restOf, timeUntil, warmedAfter } from '../../../../daemon/watch/forecast/heating.js';
import { NOTHING_KNOWN } from '../../../../daemon/watch/forecast/prior.js';

const CONTEXT = { prior: NOTHING_KNOWN, limits: [100], resolutionK: 0.1 };

/** Ten seconds of rest at 25 degrees, then a part that warms as `curve` says (s to K). */
function follow(curve: (seconds: number) => number, seconds: number): { state: FollowState; news: News[] } {
  let state = NOT_FOLLOWED;
  const news: News[] = [];
  for (let at = -10; at <= seconds; at += 1) {
    // A ripple of two tenths stands for noise, so that the test is the same every time.
    const celsius = 25 + (at > 0 ? curve(at) : 0) + 0.2 * Math.sin(at * 2.4);
    const step = followTemperature(state, (at + 10) * 1000, celsius, CONTEXT);
    state = step.state;
    if (step.news !== null) news.push(step.news);
  }
  return { state, news };
}

const exponential = (rise: number, tau: number) => (seconds: number) => rise * (1 - Math.exp(-seconds / tau));

describe('a body with one heat capacity and one loss (closed form, any text on heat transfer)', () => {
  it.each([
    [60, 80],
    [90, 300],
    [40, 600],
  ])(
    'a rise of %d K with %d s: settled within 4 K and time constant within a quarter after one time constant',
    (rise, tau) => {
      const { news } = follow(exponential(rise, tau), tau);
      const forecast = news.at(-1)?.forecast;
      expect(Math.abs((forecast?.settled.typical ?? 0) - (25 + rise))).toBeLessThan(4);
      expect(forecast?.timeConstantS.low).toBeLessThan(1.25 * tau);
      expect(forecast?.timeConstantS.high).toBeGreaterThan(0.75 * tau);
    },
  );

  it('says after one time constant when 100 degrees will be crossed: 90 K with 300 s cross after 300·ln 6 = 537.5 s', () => {
    const { news } = follow(exponential(90, 300), 300);
    const inS = news.at(-1)?.forecast?.crossings[0]?.inS;
    const left = 300 * Math.log(6) - 300;
    expect(inS?.low).toBeLessThan(left);
    expect(inS?.high).toBeGreaterThan(left);
    expect(Math.abs((inS?.typical ?? 0) / left - 1)).toBeLessThan(0.25);
  });

  it('speaks within the first minute and can not tell before', () => {
    const { news } = follow(exponential(60, 80), 50);
    expect(news[0]?.forecast).toBeNull();
    expect(news.at(-1)?.forecast).not.toBeNull();
  });
});

describe('readings that are missing for six minutes while the power doubles', () => {
  it('say of no limit that it is ahead: 38 K in all with 500 s, closed form, stay below 70 degrees', () => {
    const lag = (seconds: number): number => 1 - Math.exp(-Math.max(0, seconds) / 500);
    let state = NOT_FOLLOWED;
    const heading: number[] = [];
    for (let at = 0; at <= 2200; at += 1) {
      if (at > 1390 && at < 1765) continue;
      const celsius = 17 + 19 * lag(at - 30) + 19 * lag(at - 1462) + 0.05 * Math.sin(at * 2.4);
      const context = { ...CONTEXT, limits: [70, 85] };
      const step = followTemperature(state, at * 1000, Math.round(celsius * 10) / 10, context);
      state = step.state;
      heading.push(...(step.news?.heading ?? []));
    }
    expect(heading).toEqual([]);
  });
});

describe('the curve of a part in still air', () => {
  it('is an exponential without convection', () => {
    const curve = heatingCurve(0);
    expect(warmedAfter(curve, 0.5)).toBeCloseTo(1 - Math.exp(-0.5), 6);
    expect(timeUntil(curve, 0.5)).toBeCloseTo(Math.LN2, 6);
  });

  it.each([0, 0.6, 0.9, 1.2])(
    "follows x' = 1 - x((1 - k) + k x^1/4), k = %d, in Euler's small steps",
    (k) => {
      const curve = heatingCurve(k);
      let x = 0;
      for (let step = 1; step <= 40_000; step += 1) {
        x += 1e-4 * (1 - x * (1 - k + k * x ** 0.25));
        if (step % 10_000 === 0) expect(warmedAfter(curve, step * 1e-4)).toBeCloseTo(x, 3);
      }
    },
  );

  it('is reached when its time says so, whatever the mix of losses (seed 5)', () => {
    const property = fc.property(
      fc.double({ min: 0.05, max: 0.95, noNaN: true }),
      fc.double({ min: 0, max: 1.2, noNaN: true }),
      (goal, k) => {
        const curve = heatingCurve(k);
        expect(warmedAfter(curve, timeUntil(curve, goal))).toBeCloseTo(goal, 4);
      },
    );
    fc.assert(property, { seed: 5, numRuns: 100 });
  });

  it.each([
    [0.9, 0],
    [0.9, 0.3],
    [0.6, 0.6],
    [0.9, 0.9],
  ])(
    "goes on from part of its way as a curve of its own, within 1 %, in Euler's small steps (%d from %d)",
    (k, from) => {
      const rest = restOf(k, from);
      const curve = heatingCurve(rest.convection);
      let x = from;
      for (let step = 1; step <= 30_000; step += 1) {
        x += 1e-4 * (1 - x * (1 - k + k * x ** 0.25));
        const done = (x - from) / (1 - from);
        if (step % 5000 === 0)
          expect(Math.abs(warmedAfter(curve, (step * 1e-4) / rest.timeConstant) - done)).toBeLessThan(0.01);
      }
    },
  );

  it('cools from twice as far with 0.725 of the time constant at first, and slower where it settles', () => {
    // (2 - 1) / (2^1.25 - 1) = 0.725, where natural convection carries all of it.
    const { timeConstant, convection } = restOf(1, 2);
    expect(timeConstant).toBeCloseTo(1 / (2 ** 1.25 - 1), 6);
    expect(convection).toBeLessThan(0);
  });

  it('settles at 1 with any mix of losses', () => {
    for (const k of [0, 0.4, 1.2]) expect(warmedAfter(heatingCurve(k), 40)).toBeCloseTo(1, 6);
    expect(timeUntil(heatingCurve(1), 1)).toBe(Infinity);
  });
});

describe('what is remembered', () => {
  it('goes on to the same digit after it was saved as JSON', () => {
    const { state } = follow(exponential(60, 80), 90);
    const saved = JSON.parse(JSON.stringify(state)) as FollowState;
    const go = (from: FollowState) => followTemperature(from, 110_000, 70, CONTEXT);
    expect(JSON.stringify(go(saved))).toBe(JSON.stringify(go(state)));
  });

  it('leaves the state that it was given untouched', () => {
    const { state } = follow(exponential(60, 80), 90);
    const before = JSON.stringify(state);
    followTemperature(state, 110_000, 70, CONTEXT);
    expect(JSON.stringify(state)).toBe(before);
  });
});

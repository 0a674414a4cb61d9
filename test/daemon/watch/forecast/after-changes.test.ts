import { describe, expect, it } from 'vitest';
import type { Change } from '../../../../daemon/watch/forecast/change.js';
import { NOT_FOLLOWED, type FollowState } from '../../../../daemon/watch/forecast/follow-state.js';
import { followTemperature } from '../../../../daemon/watch/forecast/follow.js';
import { NOTHING_KNOWN } from '../../../../daemon/watch/forecast/prior.js';
import { normalNoise } from '../random.js';
import { airCooled } from './air-cooled.js';

const BARE = { airC: 22, joulesPerK: 1.8, settledK: 90, fullW: 1.8 };
const ON_S = 20;

interface Heard {
  readonly state: FollowState;
  readonly changes: readonly (readonly [number, Change])[];
}

/** Readings once a second, in tenths, with `noiseK` of noise. */
function hear(curve: readonly number[], noiseK: number, seed: number): Heard {
  const noise = normalNoise(seed);
  const context = { prior: NOTHING_KNOWN, limits: [150], resolutionK: 0.1 };
  const changes: (readonly [number, Change])[] = [];
  let state = NOT_FOLLOWED;
  for (const [second, celsius] of curve.entries()) {
    const reading = Math.round(10 * (celsius + noiseK * noise())) / 10;
    const step = followTemperature(state, 1000 * second, reading, context);
    state = step.state;
    if (step.news !== null && step.news.change !== null) changes.push([second, step.news.change]);
  }
  return { state, changes };
}

const namesAfter = ({ changes }: Heard, second: number): readonly Change[] => [
  ...new Set(changes.filter(([at]) => at >= second && at <= second + 30).map(([, change]) => change)),
];

describe('a bare part with losses by natural convection, settled anew at another power (Euler, noise of 0.05 K)', () => {
  // Near where it settles such losses grow 1.25 times as fast as the rise: what follows the step takes 0.8 of the time.
  it.each([
    [0.6, 1],
    [0.6, 2],
    [1.6, 3],
  ])(
    'after %f times the power it is told that the power went off, not that it is less (seed %d)',
    (times, seed) => {
      const watts = (second: number): number =>
        second < ON_S || second >= 1300 ? 0 : BARE.fullW * (second < 800 ? 1 : times);
      const heard = hear(airCooled(BARE, watts, 1340), 0.05, seed);
      expect(namesAfter(heard, 800)).toEqual([times > 1 ? 'heats-more' : 'heats-less']);
      expect(namesAfter(heard, 1300)).toEqual(['switched-off']);
    },
  );

  it('has shown what heats it, within a tenth: 1.08 W into 1.8 J/K', () => {
    const watts = (second: number): number => (second < ON_S ? 0 : BARE.fullW * (second < 800 ? 1 : 0.6));
    const { state } = hear(airCooled(BARE, watts, 1300), 0.05, 4);
    const heatKPerS = state.response?.heatKPerS ?? 0;
    expect(Math.abs(heatKPerS / 0.6 - 1)).toBeLessThan(0.1);
  });
});

describe('a quick part, 30 s after its power came on', () => {
  it.each([55, 75, 95])(
    'is said to settle within a tenth of its rise, whatever its time constant (%d s)',
    (timeConstantS) => {
      const body = { ...BARE, joulesPerK: (timeConstantS * BARE.fullW) / BARE.settledK };
      const watts = (second: number): number => (second < ON_S ? 0 : BARE.fullW);
      const curve = airCooled(body, watts, ON_S + 400);
      const context = { prior: NOTHING_KNOWN, limits: [150], resolutionK: 0.1 };
      let state = NOT_FOLLOWED;
      const said: number[] = [];
      for (const [second, celsius] of curve.entries()) {
        const step = followTemperature(state, 1000 * second, Math.round(10 * celsius) / 10, context);
        state = step.state;
        const forecast = step.news?.forecast ?? null;
        if (second >= ON_S + 30 && forecast !== null) said.push(forecast.settled.typical);
      }
      const far = said.filter(
        (celsius) => Math.abs(celsius - BARE.airC - BARE.settledK) > 0.1 * BARE.settledK,
      );
      expect(said.length).toBeGreaterThan(50);
      expect(far).toEqual([]);
    },
  );

  it('is expected where its next block comes, within a kelvin', () => {
    const watts = (second: number): number => (second < ON_S ? 0 : BARE.fullW);
    const curve = airCooled(BARE, watts, ON_S + 120);
    const { state } = hear(curve, 0.02, 5);
    const expected = state.warming?.expected ?? null;
    expect(expected?.deviationK).toBeLessThan(1);
    expect(
      Math.abs((expected?.celsius ?? 0) - curve[Math.round((expected?.atMs ?? 0) / 1000)]!),
    ).toBeLessThan(0.5);
  });
});

describe('a part that rests', () => {
  const resting = (straysAt: readonly number[]): FollowState =>
    hear(
      Array.from({ length: 40 }, (_, second) => (straysAt.includes(second) ? 22.8 : 22)),
      0,
      1,
    ).state;

  it('has not begun to warm where two readings stray by 0.8 K', () => {
    expect(resting([20, 21]).warming).toBeNull();
  });

  it('has where they stay there', () => {
    expect(resting(Array.from({ length: 20 }, (_, at) => 20 + at)).warming).not.toBeNull();
  });
});

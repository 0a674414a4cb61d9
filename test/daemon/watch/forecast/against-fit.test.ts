import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { describe, expect, it } from 'vitest';
import { NOT_FOLLOWED } from '../../../../daemon/watch/forecast/follow-state.js';
import { followTemperature } from '../../../../daemon/watch/forecast/follow.js';
import type { Forecast } from '../../../../daemon/watch/forecast/forecast.js';
import { NOTHING_KNOWN } from '../../../../daemon/watch/forecast/prior.js';

const CONTEXT = { prior: NOTHING_KNOWN, limits: [150], resolutionK: 0.01 };
const START_C = 22;
const REST_S = 10;

/** Clean readings, one a second, of one heat capacity and one loss (closed form, any text on heat transfer). */
function readings(riseK: number, tau: number, constants: number): readonly (readonly [number, number])[] {
  return Array.from({ length: REST_S + Math.round(constants * tau) }, (_, second) => {
    const warmed = Math.max(0, second - REST_S);
    return [second, START_C + riseK * (1 - Math.exp(-warmed / tau))] as const;
  });
}

/** Settled temperature and time constant by a fit that has nothing to do with ours: the package ml-levenberg-marquardt. */
function fitted(data: readonly (readonly [number, number])[]): readonly [number, number] {
  const warm = data.filter(([second]) => second >= REST_S);
  const { parameterValues } = levenbergMarquardt(
    { x: warm.map(([second]) => second - REST_S), y: warm.map(([, celsius]) => celsius) },
    ([rise = 0, tau = 1]) =>
      (seconds) =>
        START_C + rise * (1 - Math.exp(-seconds / tau)),
    { initialValues: [40, 150], damping: 1, maxIterations: 300, errorTolerance: 1e-12 },
  );
  const [rise = NaN, tau = NaN] = parameterValues;
  return [START_C + rise, tau];
}

function forecastAfter(data: readonly (readonly [number, number])[]): Forecast | null {
  let state = NOT_FOLLOWED;
  let newest: Forecast | null = null;
  for (const [second, celsius] of data) {
    const { state: next, news } = followTemperature(state, 1000 * second, celsius, CONTEXT);
    state = next;
    if (news !== null) newest = news.forecast;
  }
  return newest;
}

describe('clean readings, beside an outside fit that knows the closed form', () => {
  it.each([
    [50, 80, 1, 4],
    [70, 240, 1, 4],
    [60, 500, 1, 4],
    [50, 80, 3, 0.5],
    [70, 240, 3, 0.5],
    [60, 500, 3, 0.5],
  ])(
    'a rise of %d K with %d s, seen for %d time constants: settled as the fit has it, within %d K',
    (rise, tau, constants, withinK) => {
      const data = readings(rise, tau, constants);
      const [settledC, tauS] = fitted(data);
      expect(settledC).toBeCloseTo(START_C + rise, 2);
      expect(tauS).toBeCloseTo(tau, 1);
      const forecast = forecastAfter(data)!;
      expect(Math.abs(forecast.settled.typical - settledC)).toBeLessThan(withinK);
      expect(forecast.timeConstantS.low).toBeLessThan(1.25 * tauS);
      expect(forecast.timeConstantS.high).toBeGreaterThan(0.75 * tauS);
    },
  );
});

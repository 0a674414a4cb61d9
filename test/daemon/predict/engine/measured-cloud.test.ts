import { describe, expect, it } from 'vitest';
import {
  isThin,
  redrawn,
  unmeasured,
  withMeasurement,
} from '../../../../daemon/predict/engine/measured-cloud.js';
import type { Model } from '../../../../daemon/predict/engine/model.js';
import { supplyModel } from '../../../../daemon/predict/engine/model.js';
import { drawModelCloud } from '../../../../daemon/predict/engine/model-cloud.js';
import { cloudBands } from '../../../../daemon/predict/supply-cloud.js';
import { signalCabin } from './supplies.js';

const DEVIATIONS_AT_95 = 1.959964;

/** Two numbers of standard deviations 3 and 4, each seen at a point of its own, and their sum. */
const sum: Model = {
  parameters: [
    { name: 'a', low: 20 - 3 * DEVIATIONS_AT_95, typical: 20, high: 20 + 3 * DEVIATIONS_AT_95 },
    { name: 'b', low: 50 - 4 * DEVIATIONS_AT_95, typical: 50, high: 50 + 4 * DEVIATIONS_AT_95 },
  ],
  outputs: ['a', 'sum'],
  units: ['V', 'V'],
  evaluate: ([a = NaN, b = NaN], results) => {
    results[0] = a;
    results[1] = a + b;
  },
};

/** Mean and standard deviation of a normal value from its 95 % band. */
function normalOf(band: { low: number; high: number } | undefined): [mean: number, deviation: number] {
  const { low, high } = band ?? { low: NaN, high: NaN };
  return [(low + high) / 2, (high - low) / 2 / DEVIATIONS_AT_95];
}

describe('a measured cloud (seed 5)', () => {
  const drawn = unmeasured(drawModelCloud(sum, { draws: 8192, seed: 5 }));

  // Conjugate normal: prior 70 +- 5, measured 76 +- 5: halfway, and 5 over the root of 2 (Bayes; JCGM 106:2012, 7.2).
  it('moves and tightens what was measured as the closed form does', () => {
    const { cloud, weights } = withMeasurement(drawn, { point: 'sum', value: 76, standardUncertainty: 5 });
    const [mean, deviation] = normalOf(cloudBands(cloud, weights.shares)['sum']);
    expect(mean).toBeCloseTo(73, 0);
    expect(deviation).toBeCloseTo(5 / Math.SQRT2, 1);
  });

  // Gain of a: cov(a, sum) / (var sum + u^2) = 9 / 50; 20 + 9/50 x 6 = 21.08; var 9 - 81/50 = 7.38 (Kalman 1960).
  it('moves what it depends on by its share', () => {
    const { cloud, weights } = withMeasurement(drawn, { point: 'sum', value: 76, standardUncertainty: 5 });
    const [mean, deviation] = normalOf(cloudBands(cloud, weights.shares)['a']);
    expect(mean).toBeCloseTo(21.08, 1);
    expect(deviation).toBeCloseTo(Math.sqrt(7.38), 1);
  });

  it('takes the latest of two measurements of one point, in whatever order the points came', () => {
    const once = withMeasurement(withMeasurement(drawn, { point: 'a', value: 22, standardUncertainty: 1 }), {
      point: 'sum',
      value: 71,
      standardUncertainty: 1,
    });
    const again = [30, 71].reduce(
      (before, value) => withMeasurement(before, { point: 'sum', value, standardUncertainty: 1 }),
      drawn,
    );
    const both = withMeasurement(again, { point: 'a', value: 22, standardUncertainty: 1 });
    expect(both.weights.effectiveSampleSize).toBeCloseTo(once.weights.effectiveSampleSize, 6);
  });

  // Prior 70 +- 5 against 74 +- 0.01: posterior 74 +- 0.01, of a 20 + 9/25 x 4 = 21.44, root of 9 - 81/25 = 2.4.
  it('gets thin with a fine meter, and drawn anew is right and thick', () => {
    const fine = withMeasurement(drawn, { point: 'sum', value: 74, standardUncertainty: 0.01 });
    expect(isThin(fine)).toBe(true);
    const anew = redrawn(sum, fine);
    expect(isThin(anew)).toBe(false);
    const bands = cloudBands(anew.cloud, anew.weights.shares);
    const [total, within] = normalOf(bands['sum']);
    expect(total).toBeCloseTo(74, 2);
    expect(within).toBeCloseTo(0.01, 3);
    const [a, doubt] = normalOf(bands['a']);
    expect(a).toBeCloseTo(21.44, 1);
    expect(doubt).toBeCloseTo(2.4, 1);
    expect(anew.contradicted).toEqual([]);
  });

  it('tells a value that no supply comes near', () => {
    const far = withMeasurement(drawn, { point: 'sum', value: 200, standardUncertainty: 0.5 });
    expect(far.contradicted).toEqual(['sum']);
    expect(redrawn(sum, far).contradicted).toEqual(['sum']);
  });

  it.each([
    [{ point: 'c', value: 1, standardUncertainty: 1 }, 'the supply has no test point c'],
    [{ point: 'a', value: NaN, standardUncertainty: 1 }, 'a: a measured value must be a finite number'],
    [{ point: 'a', value: 1, standardUncertainty: 0 }, 'a: a standard uncertainty must be above 0'],
  ])('refuses %j', (measurement, message) => {
    expect(() => withMeasurement(drawn, measurement)).toThrow(message);
  });
});

describe('a measured signal cabin (seed 3)', () => {
  const model = supplyModel(signalCabin(), 'full');
  const drawn = unmeasured(drawModelCloud(model, { draws: 2048, seed: 3 }));
  const truth = model.typicalDraw();
  const results = new Float64Array(model.outputs.length);
  model.parameters.forEach((parameter, place) => {
    if (parameter.name === 'mainsVolts') truth[place] = 0.75 * parameter.typical + 0.25 * parameter.low;
  });
  model.evaluate(truth, results);
  const real = (point: string) => results[model.outputs.indexOf(point)] ?? NaN;
  const measured = ['reservoir.volts', 'lamps.volts', 'logic.volts'].reduce((before, point) => {
    const after = withMeasurement(before, { point, value: real(point), standardUncertainty: 0.02 });
    return isThin(after) ? redrawn(model, after) : after;
  }, drawn);

  it('three volts tighten what was never measured, and the truth stays inside', () => {
    const before = cloudBands(drawn.cloud);
    const after = cloudBands(measured.cloud, measured.weights.shares);
    for (const point of ['reservoir.valley', 'lamps.dissipation', 'logic.dissipation', 'lamps.case']) {
      const [wide, tight] = [before[point], after[point]];
      expect((tight?.high ?? NaN) - (tight?.low ?? NaN), point).toBeLessThan(
        (wide?.high ?? 0) - (wide?.low ?? 0),
      );
      expect(real(point), point).toBeGreaterThan(tight?.low ?? Infinity);
      expect(real(point), point).toBeLessThan(tight?.high ?? -Infinity);
    }
    expect(measured.contradicted).toEqual([]);
    expect(isThin(measured)).toBe(false);
  });

  it('the heat is known two times better, for it hung on the mains', () => {
    const width = (band: { low: number; high: number } | undefined) =>
      (band?.high ?? NaN) - (band?.low ?? NaN);
    const before = width(cloudBands(drawn.cloud)['logic.dissipation']);
    const after = width(cloudBands(measured.cloud, measured.weights.shares)['logic.dissipation']);
    expect(after).toBeLessThan(before / 1.5);
  });

  it('is the same for the same seed', () => {
    const once = redrawn(
      model,
      withMeasurement(drawn, { point: 'logic.volts', value: 5.05, standardUncertainty: 0.001 }),
    );
    const again = redrawn(
      model,
      withMeasurement(drawn, { point: 'logic.volts', value: 5.05, standardUncertainty: 0.001 }),
    );
    expect(again.weights.shares).toEqual(once.weights.shares);
  });
});

import { describe, expect, it } from 'vitest';
import type { Model } from '../../../daemon/predict/engine/model.js';
import { worstCorners } from '../../../daemon/predict/engine/corners.js';
import { drawModelCloud } from '../../../daemon/predict/engine/model-cloud.js';
import { certain } from '../../../daemon/predict/engine/parameters.js';
import type { Uncertain } from '../../../daemon/predict/engine/supply.js';
import { cloudBands } from '../../../daemon/predict/supply-cloud.js';

/** Air inside an enclosure: the room's and the rise. */
function airOf(...parameters: readonly Uncertain[]): Model {
  return {
    parameters,
    outputs: ['air'],
    units: ['degC'],
    evaluate: (values, results) => {
      results[0] = values.reduce((sum, value) => sum + value, 0);
    },
  };
}
const warmth = airOf(
  { name: 'ambient', low: 17, typical: 20, high: 23 },
  { name: 'enclosureRise', low: 16, typical: 20, high: 24 },
);

describe('the cloud (seed 7)', () => {
  // For a sum of normal values the variances add (JCGM 100:2008, 5.1.2): 3 and 4 make 5.
  it('gives a sum of normal values the root of the sum of their squares', () => {
    const { air: band } = cloudBands(drawModelCloud(warmth, { draws: 16384, seed: 7 }));
    expect(band?.low).toBeCloseTo(35, 1);
    expect(band?.typical).toBeCloseTo(40, 1);
    expect(band?.high).toBeCloseTo(45, 1);
  });

  it('says what the spread comes from: 9/25 and 16/25 of the variance', () => {
    const { air: band } = cloudBands(drawModelCloud(warmth, { draws: 16384, seed: 7 }));
    expect(band?.shares.map(({ from }) => from)).toEqual(['enclosureRise', 'ambient']);
    expect(band?.shares[0]?.share).toBeCloseTo(16 / 25, 1);
    expect(band?.shares[1]?.share).toBeCloseTo(9 / 25, 1);
  });

  it('names the worst corner: both at their ends', () => {
    const { air } = worstCorners(warmth);
    expect(air?.high.value).toBe(47);
    expect(air?.low.value).toBe(33);
    expect(air?.high.ends).toEqual([
      { name: 'enclosureRise', end: 'high' },
      { name: 'ambient', end: 'high' },
    ]);
  });

  it('is the same for the same seed and another for another', () => {
    const draw = (seed: number) => drawModelCloud(warmth, { draws: 64, seed }).results['air'];
    expect(draw(3)).toEqual(draw(3));
    expect(draw(3)).not.toEqual(draw(4));
  });

  it('makes no band of certain values', () => {
    const still = airOf(certain('ambient', 20), certain('enclosureRise', 7));
    const { air: band } = cloudBands(drawModelCloud(still, { draws: 64, seed: 7 }));
    expect(band).toEqual({ low: 27, typical: 27, high: 27, shares: [] });
  });
});

// (x - 1)^2 has its least between the ends: a corner is never better than the middle.
it('a result that turns around between the ends keeps its own value as the worst', () => {
  const bowl: Model = {
    parameters: [{ name: 'x', low: 0, typical: 1, high: 3 }],
    outputs: ['depth'],
    units: ['V'],
    evaluate: (values, results) => {
      results[0] = (values[0]! - 1) ** 2;
    },
  };
  const { depth } = worstCorners(bowl);
  expect(depth?.low).toEqual({ value: 0, ends: [] });
  expect(depth?.high).toEqual({ value: 4, ends: [{ name: 'x', end: 'high' }] });
});

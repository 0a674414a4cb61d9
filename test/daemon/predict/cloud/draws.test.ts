import { describe, expect, it } from 'vitest';
import { drawSpread } from '../../../../daemon/predict/cloud/draws.js';
import { inverseNormal, normalCumulative } from '../../../../daemon/predict/cloud/normal-distribution.js';
import { ascendingOrder } from '../../../../daemon/predict/cloud/order.js';
import { quantiles } from '../../../../daemon/predict/cloud/quantiles.js';
import { varianceShares } from '../../../../daemon/predict/cloud/shares.js';
import { directionNumbers, fillSobol, sobolBits } from '../../../../daemon/predict/cloud/sobol.js';

function drawn(low: number, typical: number, high: number, draws = 4096) {
  const column = new Float64Array(draws);
  drawSpread(column, { low, typical, high }, 3, 11);
  return column;
}

describe('the normal distribution', () => {
  // Tabled values, Abramowitz and Stegun, table 26.1 and 26.5 (from memory).
  it.each([
    [0.975, 1.959964],
    [0.95, 1.644854],
    [0.995, 2.575829],
    [0.5, 0],
    [0.001, -3.090232],
  ])('%d lies below %d', (share, z) => {
    expect(inverseNormal(share)).toBeCloseTo(z, 6);
    expect(normalCumulative(z)).toBeCloseTo(share, 6);
  });
});

describe("Sobol' points", () => {
  // The first points of the sequence, as every text prints them: 1/2, 3/4, 1/4 in Gray-code order (Joe and Kuo 2008).
  it('begin as published', () => {
    const first = directionNumbers(0);
    const second = directionNumbers(1);
    expect([1, 2, 3].map((at) => sobolBits(first, at) / 2 ** 32)).toEqual([0.5, 0.25, 0.75]);
    expect([1, 2, 3].map((at) => sobolBits(second, at) / 2 ** 32)).toEqual([0.5, 0.75, 0.25]);
  });

  // A (0, m, 1)-net: scrambled or not, each of 2^m equal intervals holds one of 2^m points (Owen 1995).
  it.each([0, 5, 20, 36, 40])(
    'put one point in each of 256 intervals, dimension %d (seed 5)',
    (dimension) => {
      const column = new Float64Array(256);
      fillSobol(column, dimension, 5);
      expect(new Set(Array.from(column, (value) => Math.floor(value * 256))).size).toBe(256);
    },
  );

  it('estimate a smooth integral far better than random ones would (seed 1)', () => {
    const draws = 4096;
    const columns = [0, 1, 2, 3].map((dimension) => {
      const column = new Float64Array(draws);
      fillSobol(column, dimension, 1);
      return column;
    });
    let sum = 0;
    for (let draw = 0; draw < draws; draw += 1)
      sum += columns.reduce((product, column) => product * 2 * column[draw]!, 1);
    // The integral of 2x 2y 2z 2w over the unit cube is 1; random points are off by about sqrt(((4/3)^4 - 1) / 4096) = 0.023.
    expect(Math.abs(sum / draws - 1)).toBeLessThan(0.023 / 10);
  });
});

describe('draws of a spread', () => {
  it('lie below low and above high in 2.5 % each, around the typical value (seed 11)', () => {
    const column = drawn(4.8, 5, 5.5);
    const share = (test: (value: number) => boolean) => column.filter(test).length / column.length;
    expect(share((value) => value < 4.8)).toBeCloseTo(0.025, 3);
    expect(share((value) => value > 5.5)).toBeCloseTo(0.025, 3);
    expect(share((value) => value < 5)).toBeCloseTo(0.5, 3);
  });

  it('never go below zero where the low end does not', () => {
    expect(Math.min(...drawn(0, 5, 7.5))).toBe(0);
    expect(Math.min(...drawn(-1, 0, 1))).toBeLessThan(-1);
  });
});

describe('quantiles', () => {
  it('of 1 to 5 by hand: definition 5 puts the k-th value at (k - 1/2) / n', () => {
    expect(quantiles(Float64Array.of(3, 1, 5, 2, 4), [0.1, 0.3, 0.5, 0.6, 0.99])).toEqual([1, 2, 3, 3.5, 5]);
  });

  it('count values by weight', () => {
    const weights = Float64Array.of(1, 0, 0, 3);
    expect(quantiles(Float64Array.of(1, 7, 8, 2), [0.5], weights)[0]).toBeCloseTo(1.75, 9);
  });

  it('the order is that of a plain sort', () => {
    const values = Float64Array.of(2, -1, 0, -0.5, 1e300, -1e300, 3, 2);
    expect(Array.from(ascendingOrder(values), (at) => values[at])).toEqual([...values].sort((a, b) => a - b));
  });
});

it('variance shares of 3x - 4y are 9/25 and -16/25 (seed 11)', () => {
  const [x, y] = [0, 1].map((dimension) => {
    const column = new Float64Array(4096);
    drawSpread(column, { low: -1, typical: 0, high: 1 }, dimension, 11);
    return column;
  });
  const result = x!.map((value, draw) => 3 * value - 4 * y![draw]!);
  const [fromX, fromY] = varianceShares([x!, y!], result);
  expect(fromX).toBeCloseTo(9 / 25, 1);
  expect(fromY).toBeCloseTo(-16 / 25, 1);
});

import { describe, expect, test } from 'vitest';
import { solveCoupled, solveCoupledParts } from '../../../../daemon/predict/thermal/coupled.js';
import type { CoupledResult } from '../../../../daemon/predict/thermal/coupled.js';

/** 10 K/W over 25 °C. */
const tenPerWatt = (watts: number): number[] => [25 + 10 * watts];

function settled(result: CoupledResult): { watts: readonly number[]; temperatures: readonly number[] } {
  if (!result.settles) throw new Error('expected it to settle');
  return result;
}

// Straight-line feedback by hand: P = P0 + a(T − 25), T = 25 + R·P, so P = P0/(1 − aR).
describe('one heat that depends on its temperature', () => {
  test.each([0, 0.05, 0.08, 0.0889, -0.02, -0.5, -5])('a slope of %d W/K', (slope) => {
    const result = settled(
      solveCoupled(([junction]) => Math.max(0, 2 + slope * (junction! - 25)), tenPerWatt),
    );
    expect(result.watts[0]).toBeCloseTo(2 / (1 - 10 * slope), 6);
  });

  test('runs away where heat grows faster than it leaves', () => {
    const result = solveCoupled(([junction]) => 2 + 0.11 * (junction! - 25), tenPerWatt);
    expect(result.settles).toBe(false);
    expect(result).toMatchObject({ ceiling: 1000 });
  });

  // P = 1 + ((T − 25)/100)², T = 25 + 10P: with x = P, x = 1 + x²/100, whose smaller root is 50 − √2400.
  test('of two resting points it takes the one reached from cold', () => {
    const result = settled(solveCoupled(([junction]) => 1 + ((junction! - 25) / 100) ** 2, tenPerWatt));
    expect(result.watts[0]).toBeCloseTo(50 - Math.sqrt(2400), 8);
  });
});

// Two parts on one sink: T = 25 + 4(P1 + P2) + 6Pk, P1 = 2 + 0.01(T1 − 25), P2 = 1, solved by hand.
test('two parts that share a heatsink', () => {
  const steady = ([first, second]: readonly number[]) => [
    25 + 4 * (first! + second!) + 6 * first!,
    25 + 4 * (first! + second!) + 6 * second!,
  ];
  const result = settled(solveCoupledParts(2, ([first]) => [2 + 0.01 * (first! - 25), 1], steady));
  expect(result.watts[0]).toBeCloseTo(2.04 / 0.9, 7);
  expect(result.watts[1]).toBeCloseTo(1, 9);
});

// Straight-line feedback again, steep and falling: plain iteration would swing wider each round.
test('a steep falling heat settles too', () => {
  const result = settled(
    solveCoupledParts(
      1,
      ([first]) => [2 - 0.5 * (first! - 25)],
      ([watts]) => [25 + 10 * watts!],
    ),
  );
  expect(result.watts[0]).toBeCloseTo(2 / 6, 7);
});

test('several parts can run away together', () => {
  const result = solveCoupledParts(
    2,
    (all) => all.map((one) => 1 + 0.1 * (one - 25)),
    ([a, b]) => [25 + 8 * (a! + b!), 25 + 8 * (a! + b!)],
  );
  expect(result.settles).toBe(false);
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { modeShares, modesOf, temperaturesAfter } from '../../../../daemon/predict/thermal/modes.js';
import { ladderNetwork, steadyNetwork } from '../../../../daemon/predict/thermal/network.js';
import type { Ladder } from '../../../../daemon/predict/thermal/ladder.js';

const SEED = 7002;

// τ = R·m·c: 1 kg of aluminium (900 J/(kg·K)) at 0.1 K/W: 90 s (magazine article, Thermal time constant versus specific heat).
describe('one lump', () => {
  const modes = modesOf(ladderNetwork([{ name: 'heatsink', capacity: 900, resistance: 0.1 }]));

  test('has τ = R·C', () => {
    expect(modes.timeConstants[0]).toBeCloseTo(90, 9);
  });

  test('warms as P·R·(1 − e^(−t/τ))', () => {
    const [temperature] = temperaturesAfter(modes, 90, [100], 20);
    expect(temperature).toBeCloseTo(20 + 10 * (1 - Math.exp(-1)), 9);
  });

  test('cools as e^(−t/τ) from where it was', () => {
    const [temperature] = temperaturesAfter(modes, 180, [0], 20, [60]);
    expect(temperature).toBeCloseTo(20 + 40 * Math.exp(-2), 9);
  });
});

// Two equal lumps C with R between and R to air: rates (3 ∓ √5)/2 over RC (characteristic polynomial by hand).
test('two equal lumps have the golden-section time constants', () => {
  const lump = { capacity: 10, resistance: 2 };
  const modes = modesOf(
    ladderNetwork([
      { ...lump, name: 'case' },
      { ...lump, name: 'heatsink' },
    ]),
  );
  expect(modes.timeConstants[0]).toBeCloseTo(20 / ((3 - Math.sqrt(5)) / 2), 9);
  expect(modes.timeConstants[1]).toBeCloseTo(20 / ((3 + Math.sqrt(5)) / 2), 9);
});

const ladder: fc.Arbitrary<Ladder> = fc.array(
  fc.record({
    name: fc.constant('lump'),
    capacity: fc.double({ min: 0.02, max: 500, noNaN: true }),
    resistance: fc.double({ min: 0.05, max: 60, noNaN: true }),
  }),
  { minLength: 2, maxLength: 4 },
);

describe('any ladder', () => {
  test(`stored plus lost heat is heat put in (seed ${SEED})`, () => {
    fc.assert(
      fc.property(
        ladder,
        fc.double({ min: 0.1, max: 30, noNaN: true }),
        fc.double({ min: 0.05, max: 3, noNaN: true }),
        (stages, watts, turns) => {
          const modes = modesOf(ladderNetwork(stages));
          const heat = Float64Array.from(stages, (_, k) => (k === 0 ? watts : 0));
          const seconds = turns * modes.timeConstants[0]!;
          const end = temperaturesAfter(modes, seconds, heat, 0);
          const stored = stages.reduce((sum, stage, k) => sum + stage.capacity * end[k]!, 0);
          const lost = integral(
            (t) => temperaturesAfter(modes, t, heat, 0).at(-1)! / stages.at(-1)!.resistance,
            seconds,
          );
          expect(Math.abs(stored + lost - watts * seconds)).toBeLessThan(1e-6 * watts * seconds);
        },
      ),
      { seed: SEED, numRuns: 60 },
    );
  });

  test(`starts at the air and ends at the steady temperatures (seed ${SEED})`, () => {
    fc.assert(
      fc.property(ladder, (stages) => {
        const network = ladderNetwork(stages);
        const modes = modesOf(network);
        const heat = Float64Array.from(stages, (_, k) => (k === 0 ? 5 : 0));
        const steady = steadyNetwork(network, heat, 30);
        const start = temperaturesAfter(modes, 0, heat, 30);
        const end = temperaturesAfter(modes, 40 * modes.timeConstants[0]!, heat, 30);
        const hottest = steady[0]! - 30;
        for (let k = 0; k < stages.length; k++) {
          expect(Math.abs(start[k]! - 30)).toBeLessThan(1e-8 * hottest);
          expect(Math.abs(end[k]! - steady[k]!)).toBeLessThan(1e-8 * hottest);
        }
      }),
      { seed: SEED, numRuns: 200 },
    );
  });

  test(`the modes’ shares of a node’s rise add up to one (seed ${SEED})`, () => {
    fc.assert(
      fc.property(ladder, (stages) => {
        const shares = modeShares(modesOf(ladderNetwork(stages)), 0);
        const size = stages.length;
        for (let node = 0; node < size; node++) {
          let sum = 0;
          for (let mode = 0; mode < size; mode++) sum += shares[mode * size + node]!;
          expect(sum).toBeCloseTo(1, 7);
        }
      }),
      { seed: SEED, numRuns: 100 },
    );
  });
});

/** Gauss-Legendre, five points, on pieces that crowd towards 0 where the quick modes are. */
function integral(value: (t: number) => number, end: number): number {
  const nodes = [0, 0.5384693101056831, -0.5384693101056831, 0.906179845938664, -0.906179845938664];
  const weights = [
    0.5688888888888889, 0.47862867049936647, 0.47862867049936647, 0.23692688505618908, 0.23692688505618908,
  ];
  let sum = 0;
  const pieces = 90;
  for (let k = 0; k < pieces; k++) {
    const from = k === 0 ? 0 : end * 0.7 ** (pieces - k);
    const to = end * 0.7 ** (pieces - k - 1);
    nodes.forEach(
      (node, j) =>
        (sum += ((to - from) / 2) * weights[j]! * value((from + to) / 2 + (node * (to - from)) / 2)),
    );
  }
  return sum;
}

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { modesOf, temperaturesAfter } from '../../../../daemon/predict/thermal/modes.js';
import { ladderNetwork } from '../../../../daemon/predict/thermal/network.js';
import { steadyStack } from '../../../../daemon/predict/thermal/stack.js';
import { heatFlow } from '../../../../daemon/predict/thermal/surface.js';
import { warmUp } from '../../../../daemon/predict/thermal/warm-up.js';
import { spellsOf, stackOf, thermalTraces } from './trace-cases.js';

const SEED = 7004;

// Noise-free case curves of the reference traces, stated within 0.02 °C; knots rounded to 0.001 °C and 0.1 s.
describe('against 160 warm-ups solved by general-purpose integrators', () => {
  const traces = thermalTraces();

  test('case temperatures at every knot', () => {
    for (const trace of traces) {
      const { temperatures } = warmUp(stackOf(trace), spellsOf(trace), trace.truth.case_curve_t_s);
      trace.truth.case_curve_C.forEach((expected, k) => {
        expect(Math.abs(temperatures[1]![k]! - expected), `${trace.id} knot ${k}`).toBeLessThan(0.02);
      });
    }
  });

  test('steady case temperature of every segment', () => {
    for (const trace of traces) {
      const spells = spellsOf(trace);
      trace.truth.segments.forEach((segment, k) => {
        const surface = spells[k]!.surface!;
        const [, body] = steadyStack(
          { ...stackOf(trace), surface },
          segment.power_W,
          segment.local_ambient_C,
        );
        expect(Math.abs(body! - segment.steady_case_C), `${trace.id} segment ${k}`).toBeLessThan(0.005);
      });
    }
  });
});

// With conduction alone the stack is a linear ladder, whose answer is a sum of exponentials in closed form.
test('with a straight surface it meets the closed form', () => {
  const stack = {
    capacities: [0.05, 2, 90],
    resistances: [4, 1],
    surface: { conduction: 0.25, convection: 0, radiation: 0 },
  };
  const modes = modesOf(
    ladderNetwork([
      { name: 'junction', capacity: 0.05, resistance: 4 },
      { name: 'case', capacity: 2, resistance: 1 },
      { name: 'heatsink', capacity: 90, resistance: 4 },
    ]),
  );
  const instants = [0, 0.1, 0.5, 2, 10, 60, 300, 1200];
  const curve = warmUp(stack, [{ fromSeconds: 0, watts: 6, air: 22 }], instants);
  instants.forEach((seconds, k) => {
    const exact = temperaturesAfter(modes, seconds, [6, 0, 0], 22);
    for (let node = 0; node < 3; node++) {
      expect(Math.abs(curve.temperatures[node]![k]! - exact[node]!), `${seconds} s`).toBeLessThan(0.01);
    }
  });
});

test(`stored plus lost heat is heat put in, with convection and radiation (seed ${SEED})`, () => {
  const positive = (min: number, max: number) => fc.double({ min, max, noNaN: true });
  fc.assert(
    fc.property(
      positive(0.002, 0.1),
      positive(0, 0.02),
      positive(1, 200),
      positive(0.2, 15),
      (convection, radiation, capacity, watts) => {
        const stack = {
          capacities: [0.05, 2, capacity],
          resistances: [4, 1],
          surface: { conduction: 0.005, convection, radiation },
        };
        const seconds = Float64Array.from({ length: 4001 }, (_, k) => 0.3 * k);
        const { temperatures } = warmUp(stack, [{ fromSeconds: 0, watts, air: 20 }], seconds);
        const sink = temperatures[2]!;
        let lost = 0;
        for (let k = 1; k < sink.length; k++) {
          lost += 0.15 * (heatFlow(stack.surface, sink[k - 1]!, 20) + heatFlow(stack.surface, sink[k]!, 20));
        }
        const stored = stack.capacities.reduce(
          (sum, size, node) => sum + size * (temperatures[node]!.at(-1)! - 20),
          0,
        );
        expect(Math.abs((stored + lost) / (watts * 1200) - 1)).toBeLessThan(1e-3);
      },
    ),
    { seed: SEED, numRuns: 25 },
  );
});

test('begins where it is told to and comes to rest at the steady temperatures', () => {
  const stack = {
    capacities: [0.05, 2],
    resistances: [5],
    surface: { conduction: 0.005, convection: 0.005, radiation: 4e-4 },
  };
  const { temperatures } = warmUp(stack, [{ fromSeconds: 10, watts: 1.5, air: 25 }], [10, 5000], [40, 40]);
  expect(temperatures[1]![0]).toBe(40);
  expect(Math.abs(temperatures[1]![1]! - steadyStack(stack, 1.5, 25)[1]!)).toBeLessThan(0.001);
});

test('a heat that is no number is refused with all that was given', () => {
  const stack = {
    capacities: [0.05, 2],
    resistances: [5],
    surface: { conduction: 0.02, convection: 0, radiation: 0 },
  };
  expect(() => warmUp(stack, [{ fromSeconds: 0, watts: NaN, air: 25 }], [10])).toThrow(
    'a warm-up needs finite numbers',
  );
});

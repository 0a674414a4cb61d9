import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  emptyFollowerFigures,
  followerWorkspace,
  solveFollower,
} from '../../../../daemon/predict/follower/follower.js';
import type { Follower } from '../../../../daemon/predict/follower/follower.js';
import { evenWaveform } from '../../../../daemon/predict/follower/periodic-waveform.js';

const SEED = 7001;
/** A transistor with its emitter all but open stands Vt·ln(1 + 1/β) above its collector: 1.67 mV at β 15. */
const OFFSET_VOLTS = 0.00168;

const network = fc.record({
  resistance: fc.double({ min: 10, max: 1e5, noNaN: true }),
  capacitance: fc.double({ min: 1e-5, max: 1e-2, noNaN: true }),
  divider: fc.constantFrom(Infinity, 1e4, 1e6),
});
const follower: fc.Arbitrary<Follower> = fc.oneof(
  fc.record({
    kind: fc.constant('bipolar' as const),
    law: fc.constantFrom('junction' as const, 'clamp' as const),
    network,
    beta: fc.double({ min: 15, max: 5000, noNaN: true }),
    baseEmitterVolts: fc.double({ min: 0.5, max: 0.9, noNaN: true }),
    saturationVolts: fc.double({ min: 0.05, max: 0.4, noNaN: true }),
  }),
  fc.record({
    kind: fc.constant('mosfet' as const),
    network,
    gateSourceVolts: fc.double({ min: 0.5, max: 5, noNaN: true }),
    onResistance: fc.double({ min: 0.001, max: 2, noNaN: true }),
  }),
);
const load = fc.record({
  amps: fc.double({ min: 1e-3, max: 5, noNaN: true }),
  ohms: fc.constantFrom(Infinity, 1000, 22),
});

test(`figures are finite and the output never stands above the input (seed ${SEED})`, () => {
  fc.assert(
    fc.property(
      follower,
      load,
      fc.double({ min: 2, max: 60, noNaN: true }),
      fc.double({ min: 0, max: 1, noNaN: true }),
      (device, drawn, mean, depth) => {
        const volts = Float64Array.from({ length: 64 }, (_, k) => mean * (1 - depth * (k / 64 - 0.5)));
        const workspace = followerWorkspace(64);
        const figures = emptyFollowerFigures();
        solveFollower(evenWaveform(volts, 0.01), device, drawn, workspace, figures);
        for (const value of Object.values(figures))
          if (typeof value === 'number') expect(Number.isFinite(value)).toBe(true);
        for (let k = 0; k < 64; k++)
          expect(workspace.output[k]).toBeLessThanOrEqual(volts[k]! + OFFSET_VOLTS);
        expect(figures.rippleRms).toBeLessThanOrEqual(figures.ripplePeakToPeak + 1e-9);
      },
    ),
    { seed: SEED, numRuns: 400 },
  );
});

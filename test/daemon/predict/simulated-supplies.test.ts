import { describe, expect, it } from 'vitest';
import { predict } from '../../../daemon/predict/predict.js';
import { simulateSupply } from '../../../drivers/simulated/supply.js';
import { cabin } from '../design/signal-cabin.js';

// The simulated bench integrates the circuit in time steps and shares no formula or part value with predictions.
const MEASURED = [
  'reservoir.volts',
  'reservoir.ripple',
  'transformer.amps',
  'lamps.volts',
  'lamps.ripple',
  'lamps.case',
  'logic.volts',
  'logic.ripple',
  'logic.case',
];
const AN_HOUR_MS = 3_600_000;

describe('supplies with parts drawn within their tolerances', () => {
  it.each([
    ['typical', 1],
    ['typical', 2],
    ['full', 3],
    ['idle', 4],
  ] as const)('a healthy one reads inside its bands after an hour at %s load (seed %i)', (load, seed) => {
    const { points } = predict(cabin(), { load });
    const supply = simulateSupply(cabin(), { seed, load });
    supply.power('on');
    supply.advanceTo(AN_HOUR_MS);
    for (const id of MEASURED) {
      const { low = NaN, high = NaN } = points[id] ?? {};
      expect(supply.read(id), id).toBeGreaterThan(low);
      expect(supply.read(id), id).toBeLessThan(high);
    }
  });

  it.each([
    ['centre-tap', 5],
    ['half-wave', 6],
  ] as const)(
    'a healthy one with a %s rectifier reads inside its bands after an hour (seed %i)',
    (kind, seed) => {
      const design = cabin(['kind: bridge', `kind: ${kind}`]);
      const { points } = predict(design, { load: 'typical' });
      const supply = simulateSupply(design, { seed });
      supply.power('on');
      supply.advanceTo(AN_HOUR_MS);
      for (const id of MEASURED) {
        const { low = NaN, high = NaN } = points[id] ?? {};
        expect(supply.read(id), id).toBeGreaterThan(low);
        expect(supply.read(id), id).toBeLessThan(high);
      }
    },
  );

  it('one without the logic heatsink leaves its band within ten minutes (seed 1)', () => {
    const { points } = predict(cabin(), { load: 'typical' });
    const supply = simulateSupply(cabin(), { seed: 1, fault: 'heatsink-missing', faultRail: 'logic' });
    supply.power('on');
    supply.advanceTo(AN_HOUR_MS / 6);
    expect(supply.read('logic.case')).toBeGreaterThan(points['logic.case']?.high ?? Infinity);
  });
});

import { expect, test } from 'vitest';
import { radiationFilm } from '../../../../daemon/predict/thermal/film.js';
import {
  heatsinkCapacity,
  heatsinkResistance,
  heatsinkSurface,
} from '../../../../daemon/predict/thermal/heatsink-size.js';
import { heatFlow } from '../../../../daemon/predict/thermal/surface.js';

const plate = {
  kind: 'plate',
  length: 0.1,
  width: 0.08,
  thickness: 0.002,
  orientation: 'vertical',
  finish: 'painted',
} as const;
const block = {
  kind: 'finned',
  length: 0.1,
  width: 0.1,
  baseThickness: 0.005,
  finHeight: 0.03,
  finThickness: 0.002,
  finCount: 9,
  backFree: false,
  orientation: 'vertical',
  finish: 'anodised',
} as const;

// By hand: both faces, 2 × 0.008 m² × (6.35 W/(m²·K) at 40 K + radiation of emissivity 0.9), the quoted plate law.
test('an upright painted plate of 100 × 80 mm', () => {
  const watts = 0.016 * 40 * (6.35 + radiationFilm(0.9, 65, 25));
  expect(heatFlow(heatsinkSurface(plate, 40, 25), 65, 25)).toBeCloseTo(watts, 3);
});

// h ∝ ΔT^0.25, so the law found at one rise is that of another.
test('a plate’s law doesn’t depend on the rise it was worked out at', () => {
  expect(heatsinkSurface(plate, 20, 25).convection).toBeCloseTo(
    heatsinkSurface(plate, 60, 25).convection,
    12,
  );
});

// 900 J/(kg·K) (handbook) and 2.7 g/cm³: 16 cm³ weigh 43.2 g and hold 38.9 J/K.
test('heat capacity of the plate', () => {
  expect(heatsinkCapacity(plate)).toBeCloseTo(38.88, 2);
});

// Common practice: in still air a finned block needs 500 to 800 cm³ for each W/K, here 350 cm³ (from memory).
test('a finned block of 100 × 100 × 35 mm', () => {
  const resistance = heatsinkResistance(block, 50, 25);
  expect(resistance).toBeGreaterThan(500 / 350);
  expect(resistance).toBeLessThan(800 / 350);
  expect(heatsinkResistance({ ...block, backFree: true }, 50, 25)).toBeLessThan(resistance);
});

test('lying fins, bare metal and crowded fins are all worse', () => {
  const best = heatsinkResistance(block, 50, 25);
  expect(heatsinkResistance({ ...block, orientation: 'horizontal' }, 50, 25)).toBeGreaterThan(best);
  expect(heatsinkResistance({ ...block, finish: 'bare' }, 50, 25)).toBeGreaterThan(best);
  expect(heatsinkResistance({ ...block, finCount: 32, finThickness: 0.001 }, 50, 25)).toBeGreaterThan(best);
});

test('fins that don’t fit are refused', () => {
  expect(() => heatsinkSurface({ ...block, finCount: 60 }, 50, 25)).toThrow('60 fins of 0.002 m don');
});

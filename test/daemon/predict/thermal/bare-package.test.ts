import { expect, test } from 'vitest';
import { barePackageSurface } from '../../../../daemon/predict/thermal/bare-package.js';
import { steadyStack } from '../../../../daemon/predict/thermal/stack.js';
import { warmUp } from '../../../../daemon/predict/thermal/warm-up.js';

const to220 = {
  junctionToAir: 50,
  junctionToCase: 5,
  radiatingArea: 6e-4,
  emissivity: 0.7,
  conduction: 0.005,
};

function stack(part: typeof to220, caseCapacity: number) {
  return {
    capacities: [0.05, caseCapacity],
    resistances: [part.junctionToCase],
    surface: barePackageSurface(part),
  };
}

// LM317 datasheets: TO-220 50 K/W (ST Rev 19, National DS009063), 7805 65 K/W (Fairchild), both with 5 K/W inside.
test.each([50, 65])('published %d K/W come out at a case rise of 50 K', (junctionToAir) => {
  const part = { ...to220, junctionToAir };
  const watts = 50 / (junctionToAir - 5);
  const [junction, body] = steadyStack(stack(part, 1.5), watts, 25);
  expect(body).toBeCloseTo(75, 6);
  expect((junction! - 25) / watts).toBeCloseTo(junctionToAir, 6);
});

// Still air: films grow with ΔT^0.25, radiation with T³ (textbook).
test('at a small power the K/W is larger, at a large one smaller', () => {
  const [small] = steadyStack(stack(to220, 1.5), 0.1, 25);
  const [large] = steadyStack(stack(to220, 1.5), 3, 25);
  expect((small! - 25) / 0.1).toBeGreaterThan(50);
  expect((large! - 25) / 3).toBeLessThan(50);
});

// From memory: a bare TO-220 warms with about one to three minutes (1 to 2 J/K at 50 to 65 K/W).
test.each([
  [50, 1],
  [65, 2],
])('%d K/W and %d J/K reach 63 %% of their rise within one to three minutes', (junctionToAir, capacity) => {
  const model = stack({ ...to220, junctionToAir }, capacity);
  const rise = steadyStack(model, 1, 25)[1]! - 25;
  const at = warmUp(model, [{ fromSeconds: 0, watts: 1, air: 25 }], [40, 180]).temperatures[1]!;
  expect(at[0]! - 25).toBeLessThan(0.632 * rise);
  expect(at[1]! - 25).toBeGreaterThan(0.632 * rise);
});

test('figures that leave nothing for convection are named', () => {
  expect(() => barePackageSurface({ ...to220, conduction: 0.05 })).toThrow(
    '0.05 W/K in its leads; check these',
  );
});

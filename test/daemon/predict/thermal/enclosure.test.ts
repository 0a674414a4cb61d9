import { expect, test } from 'vitest';
import { enclosureRise } from '../../../../daemon/predict/thermal/enclosure.js';

// Common practice for closed painted sheet steel, 5.5 W/(m²·K): 11 W in 0.2 m² make 10 K.
test('11 W in 0.2 m² of closed steel box rise 10 K', () => {
  expect(enclosureRise(11, 0.2)).toBeCloseTo(10, 12);
});

test('a box without free faces is refused', () => {
  expect(() => enclosureRise(11, 0)).toThrow('it got 0 m²');
});

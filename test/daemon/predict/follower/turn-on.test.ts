import { expect, test } from 'vitest';
import { turnOnSeconds } from '../../../../daemon/predict/follower/turn-on.js';

// First order: 95 % after three time constants (ln 20), 63.2 % after one (textbook).
test('reaches 95 % after three time constants and 63.2 % after one', () => {
  expect(turnOnSeconds(1.5, 0.95)).toBeCloseTo(1.5 * Math.log(20), 12);
  expect(turnOnSeconds(1, 0.95)).toBeCloseTo(3, 2);
  expect(turnOnSeconds(2, 0.632)).toBeCloseTo(2, 2);
});

test('never reaches all of it', () => {
  expect(() => turnOnSeconds(1, 1)).toThrow('must lie in [0, 1); it is 1');
});

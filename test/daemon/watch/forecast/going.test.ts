import { expect, it } from 'vitest';
import { goingOf } from '../../../../daemon/watch/forecast/going.js';

const settled = (low: number, typical: number, high: number) => ({ settled: { low, typical, high } });

it.each([
  [settled(74, 75, 76), 74, 'arrived'],
  [settled(74, 75, 76), 76.4, 'arrived'],
  [settled(74, 75, 76), 73, 'on-its-way'],
  [settled(70, 75, 80), 60, 'on-its-way'],
  [settled(40, 75, 101), 75, 'unsure'],
] as const)('%j at %d °C: %s', (forecast, value, going) => {
  expect(goingOf(forecast, value)).toBe(going);
});

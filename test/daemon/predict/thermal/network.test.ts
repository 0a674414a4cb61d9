import { describe, expect, test } from 'vitest';
import {
  ladderNetwork,
  nodeOf,
  sharedHeatsinkNetwork,
  steadyNetwork,
} from '../../../../daemon/predict/thermal/network.js';

const to220 = [
  { name: 'junction', capacity: 0.05, resistance: 5 },
  { name: 'case', capacity: 2, resistance: 1 },
];

// Ohm's law of heat by hand: 3 + 2 W over 4 K/W make a sink of 45 °C; 6 K/W more to each junction.
describe('two regulators on one heatsink', () => {
  const network = sharedHeatsinkNetwork(
    [
      { name: 'lamps', ladder: to220 },
      { name: 'logic', ladder: to220 },
    ],
    { capacity: 90, resistance: 4 },
  );
  const watts = new Float64Array(network.names.length);
  watts[nodeOf(network, 'lamps.junction')] = 3;
  watts[nodeOf(network, 'logic.junction')] = 2;
  const steady = steadyNetwork(network, watts, 25);

  test.each([
    ['heatsink', 45],
    ['lamps.case', 48],
    ['lamps.junction', 63],
    ['logic.case', 47],
    ['logic.junction', 57],
  ])('%s stands at %d °C', (name, temperature) => {
    expect(steady[nodeOf(network, name)]).toBeCloseTo(temperature, 9);
  });

  test('an unknown node is named with those that exist', () => {
    expect(() => nodeOf(network, 'logic.tab')).toThrow(
      'no thermal node logic.tab; there are heatsink, lamps.junction',
    );
  });
});

test('a lump that stores nothing is refused with the cure', () => {
  expect(() => ladderNetwork([{ name: 'interface', capacity: 0, resistance: 1 }])).toThrow(
    'thermal node interface needs a heat capacity above 0 J/K, not 0; add it to its neighbour if it stores nothing',
  );
});

test('a stage without resistance is refused', () => {
  const flat = [to220[0]!, { name: 'case', capacity: 2, resistance: 3 }].map((stage) => ({
    ...stage,
    resistance: 0,
  }));
  expect(() => ladderNetwork(flat)).toThrow('from junction to case there must be more than 0 K/W, not 0');
});

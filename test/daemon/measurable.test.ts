import { expect, it } from 'vitest';
import { joinInstruments } from '../../daemon/channels.js';
import { loadBench } from '../../daemon/design/load.js';
import { testPointsOf } from '../../daemon/design/test-points.js';
import { waysTo } from '../../daemon/measurable.js';
import { cabin } from './design/signal-cabin.js';

const BENCH = `
bench: a table
instruments:
  rails:
    driver: text-lines
    link: { serial: /dev/ttyUSB2 }
    options: { pattern: 'LAMPS {lamps.volts} V', interval_ms: 1000 }
  hand:
    driver: by-hand
    channels:
      volts: { measures: dc-volts }
      clamp: { measures: ac-amps }
  scope:
    driver: scpi-scope
    link: { tcp: 'localhost:5025' }
    options: { dialect: ten-field, inputs: { ch1: 1 } }
`;

function ways(without: RegExp = /^$/) {
  const design = cabin();
  const value = loadBench(BENCH, 'x', design);
  const instruments = joinInstruments({ file: 'x', text: BENCH, value });
  return waysTo(
    instruments.filter(({ name }) => !without.test(name)),
    testPointsOf(design),
  );
}

it('a channel that stays on a point comes before one that is moved there, and a cable before a hand', () => {
  const found = ways();
  expect(found['lamps.volts']).toEqual({ instrument: 'rails', channel: 'lamps.volts', isTyped: false });
  expect(found['logic.volts']).toEqual({ instrument: 'scope', channel: 'ch1', isTyped: false });
  expect(ways(/scope/)['logic.volts']).toEqual({ instrument: 'hand', channel: 'volts', isTyped: true });
});

it('the winding takes a clamp; ripple and valley a scope where no AC range is at hand', () => {
  expect(ways()['transformer.amps']?.channel).toBe('clamp');
  expect(ways()['reservoir.ripple']?.instrument).toBe('scope');
  expect(ways()['reservoir.valley']?.instrument).toBe('scope');
  const without = ways(/scope|hand/);
  expect(Object.keys(without)).toEqual(['lamps.volts']);
});

it('nothing reaches a junction', () => {
  expect(ways()['logic.junction']).toBeUndefined();
  expect(ways()['logic.case']).toBeUndefined();
});

import { expect, test } from 'vitest';
import { pointMeaning } from '../../../daemon/predict/points.js';
import { cabin } from '../design/signal-cabin.js';
import { example } from '../design/topologies.js';

// How near: some thirty random split supplies and fifty with an RC filter against their integration in time.
test('a point that is known less nearly says so beside its number', () => {
  const rc = cabin(['rails:\n', 'filter: { kind: rc, resistor: 2, capacity_uF: 4700 }\nrails:\n']);
  expect(pointMeaning('reservoir.ripple', rc).formula).toContain('within a tenth');
  expect(pointMeaning('reservoir.ripple', cabin()).formula).not.toContain('within a tenth');
  const split = example('turntable');
  expect(pointMeaning('negative-reservoir.volts', split).formula).toContain('4 % less');
  expect(pointMeaning('reservoir.volts', cabin()).formula).not.toContain('4 % less');
});

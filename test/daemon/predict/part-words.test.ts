import { expect, it } from 'vitest';
import { partWords, regulatorOf } from '../../../daemon/predict/part-words.js';
import { example } from '../design/topologies.js';
import { cabin } from '../design/signal-cabin.js';

it('calls a part by its name, a pass device by its kind', () => {
  expect(partWords('lamps', cabin())).toBe('LM317');
  expect(partWords('filter', example('goods-crane'))).toBe('Darlington');
  expect(() => partWords('bells', cabin())).toThrow('there is no rail "bells"');
});

it('finds the part only where there is one', () => {
  const design = cabin();
  const given = { kind: 'given', volts: 5, tolerance_percent: 5, dropout: 1, ripple: 0 } as const;
  const logic = design.rails['logic']!;
  const other = { ...design, rails: { ...design.rails, logic: { ...logic, regulator: given } } };
  expect(regulatorOf('logic', design)?.name).toBe('7805');
  expect(regulatorOf('logic', other)).toBeNull();
});

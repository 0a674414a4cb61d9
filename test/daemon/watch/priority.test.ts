import { expect, it } from 'vitest';
import { priorityAhead, priorityOfLimit } from '../../../daemon/watch/priority.js';

const rating = { kind: 'rating', side: 'high', value: 2, why: 'the winding' } as const;
const damage = { ...rating, kind: 'damage' } as const;

it.each([
  ['what damages', 2.1, 'V', damage, 'high'],
  ['a rating of volts', 2.1, 'V', rating, 'high'],
  ['a rating of a temperature', 2.1, 'degC', rating, 'high'],
  ['a winding a little over its amps', 2.1, 'Arms', rating, 'medium'],
  ['a winding well over its amps', 3.1, 'Arms', rating, 'high'],
] as const)('%s', (_what, value, unit, limit, priority) => {
  expect(priorityOfLimit(value, unit, limit)).toBe(priority);
});

it('a limit ahead by the time that is left', () => {
  expect([priorityAhead(60), priorityAhead(600), priorityAhead(null)]).toEqual(['high', 'medium', 'medium']);
});

import { expect, it } from 'vitest';
import { withNumber } from '../../daemon/line-options.js';

const sure = { name: 't1', measures: 'temperature', isSure: true } as const;
const guess = { name: 'x', measures: 'dc-volts', isSure: false } as const;

it.each([
  [{ pattern: 'T1: {t1} mC {t1-2} C' }, sure, { pattern: 'T1: {logic.case} mC {t1-2} C' }],
  [{ patterns: ['{t1 C}', '{u} V'] }, sure, { patterns: ['{logic.case C}', '{u} V'] }],
  [{ pattern: 'x {x V}, {y V}' }, guess, { pattern: 'x {logic.case C}, {y V}' }],
  [{ format: 'csv', fields: { x: '{x} V' } }, guess, { format: 'csv', fields: { x: '{logic.case} C' } }],
])('%j with %j renamed is %j', (options, number, expected) => {
  expect(withNumber(options, number, { name: 'logic.case', measures: 'temperature' })).toEqual(expected);
});

import { describe, expect, it } from 'vitest';
import { settingsOf, textLineProblems } from '../../../drivers/text-lines/text-line-options.js';

const FIELDS = { T1: '{a} C' };

describe('textLineProblems', () => {
  it.each([
    [{ pattern: '{a} C' }],
    [{ pattern: '{a} C; {b} C', decimal: 'comma' }],
    [{ format: 'csv', fields: FIELDS }],
    [{ format: 'csv', fields: FIELDS, separator: 'tab', header: 'T1\tT2', interval_ms: 200 }],
    [{ format: 'json', fields: { 'a.b': '{a} mV' } }],
  ])('finds nothing in %j', (options) => {
    expect(textLineProblems(options)).toEqual([]);
  });

  it.each([
    [{}, ['pattern']],
    [{ pattern: '{a} C', patterns: ['{a} C'] }, ['pattern']],
    [{ format: 'csv' }, ['fields']],
    [{ format: 'csv', fields: FIELDS, pattern: '{a} C' }, ['pattern']],
    [{ format: 'json', fields: FIELDS, separator: 'tab' }, ['separator']],
    [{ format: 'csv', fields: FIELDS, separator: 'comma', decimal: 'comma' }, ['separator']],
    [{ format: 'csv', fields: {} }, ['fields']],
    [{ format: 'csv', fields: { T1: '{a} C {b} V' } }, ['fields.T1']],
    [{ format: 'csv', fields: { T1: 'lamps.case' } }, ['fields.T1']],
    [{ format: 'xml', pattern: '{a} C' }, ['format']],
    [{ pattern: '{a},{b}', decimal: 'comma' }, ['pattern']],
  ])('finds in %j what is wrong at %j', (options, keys) => {
    const problems = textLineProblems(options);
    expect(problems.map(({ key }) => key)).toEqual(keys);
    for (const { allowed } of problems) expect(allowed).not.toBe('');
  });

  it('separates with semicolons where numbers have commas', () => {
    expect(settingsOf({ format: 'csv', fields: FIELDS, decimal: 'comma' }).separator).toBe('semicolon');
    expect(settingsOf({ format: 'csv', fields: FIELDS }).separator).toBe('comma');
  });
});

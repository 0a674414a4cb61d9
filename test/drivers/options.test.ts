import { describe, expect, it } from 'vitest';
import { numberBetween, numberOption, optionOf, optionProblems } from '../../drivers/options.js';

const rules = { interval_ms: numberBetween(50, 1000, 'ms') };

describe('driver options', () => {
  it('finds no problem in what is allowed or absent', () => {
    expect(optionProblems({}, rules)).toEqual([]);
    expect(optionProblems({ interval_ms: 50 }, rules)).toEqual([]);
  });

  it.each([49, 1001, NaN, '100', null, undefined])('names key, value and range of %j', (found) => {
    expect(optionProblems({ interval_ms: found }, rules)).toEqual([
      { key: 'interval_ms', found, allowed: 'a number from 50 to 1000 (ms)' },
    ]);
  });

  it('names the keys there are when one is unknown, also one that every object has', () => {
    for (const key of ['intervall', 'constructor', 'toString']) {
      expect(optionProblems({ [key]: 1 }, rules)).toEqual([{ key, found: 1, allowed: 'one of interval_ms' }]);
    }
  });

  it.each([null, 'fast', 3, ['a']])('says that %j are no settings', (options) => {
    expect(optionProblems(options, rules)).toMatchObject([{ key: 'options', found: options }]);
  });

  it('reads a value or its default', () => {
    expect(numberOption({ interval_ms: 70 }, 'interval_ms', 500)).toBe(70);
    expect(numberOption({ interval_ms: '70' }, 'interval_ms', 500)).toBe(500);
    expect(numberOption(null, 'interval_ms', 500)).toBe(500);
    expect(optionOf({}, 'constructor')).toBeUndefined();
  });
});

import { describe, expect, it } from 'vitest';
import { goingWords } from '../../web/going-words.js';
import { POINTS } from './signal-cabin.js';

const warm = { ...POINTS.find(({ id }) => id === 'logic.case')!, value: 61 };

describe('where a temperature is going, in words', () => {
  it.each([
    ['on-its-way', { low: 120.2, typical: 131.4, high: 142.8 }, /^heading for 131.°C \(120 to 143.°C\)$/],
    ['unsure', { low: 20, typical: 80, high: 140 }, /^can’t tell yet where it is going$/],
    ['arrived', { low: 59, typical: 61.9, high: 64 }, /^settled, near 62.°C$/],
  ] as const)('%s: %j', (going, settles, words) => {
    expect(goingWords({ ...warm, settles, going })).toMatch(words);
  });

  it('is nothing for what is not forecast, or has no number', () => {
    expect(goingWords(warm)).toBeNull();
    expect(goingWords({ ...warm, value: null, settles: { low: 1, typical: 2, high: 3 } })).toBeNull();
  });
});

import { describe, expect, it } from 'vitest';
import { predict } from '../../../daemon/predict/predict.js';
import { cabin } from '../design/signal-cabin.js';

describe('figures of the parts', () => {
  it('are there for every part and rail, each with its unit', () => {
    const { parts } = predict(cabin(), { load: 'full' });
    expect(Object.keys(parts)).toEqual(['transformer', 'rectifier', 'reservoir', 'lamps', 'logic']);
    expect(
      Object.values(parts)
        .flatMap(Object.keys)
        .every((key) => /^[a-z][a-z0-9_]*_[A-Za-z]+$/.test(key)),
    ).toBe(true);
    // 15 V x 1.12
    expect(parts['transformer']?.['no_load_Vrms']).toBeCloseTo(16.8, 9);
  });
});

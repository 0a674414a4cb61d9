import { describe, expect, it } from 'vitest';
import { testPointsOf } from '../../../daemon/design/test-points.js';
import { predict } from '../../../daemon/predict/predict.js';
import { example } from '../design/topologies.js';

describe.each(['level-crossing', 'turntable', 'goods-crane'])('the example %s', (name) => {
  const design = example(name);
  const { points, parts, advice } = predict(design, { load: 'full' });

  it('has a prediction with label and formula for every test point', () => {
    expect(Object.keys(points)).toEqual(testPointsOf(design));
    for (const { id, label, formula, low, typical, high, worst } of Object.values(points)) {
      expect(label, id).not.toBe('');
      expect(formula, id).not.toBe('');
      expect([worst.low, low, typical, high, worst.high], id).toEqual(
        [worst.low, low, typical, high, worst.high].sort((a, b) => a - b),
      );
    }
  });

  it('has nothing about it that destroys, and a dummy load for every rail', () => {
    expect(advice.filter(({ severity }) => severity === 'destroys')).toEqual([]);
    for (const rail of Object.keys(design.rails)) expect(parts[rail]?.['dummy_load_ohm']).toBeGreaterThan(0);
  });
});

describe('a negative rail', () => {
  const { points } = predict(example('turntable'), { load: 'typical' });

  it('is below zero, and so is what its load survives', () => {
    expect(points['minus.volts']?.high).toBeLessThan(-14);
    expect(points['minus.volts']?.limits).toEqual([
      { kind: 'damage', side: 'low', value: -18, why: 'what the minus load survives' },
    ]);
  });

  it('so are the ratings of its reservoir', () => {
    const limits = points['negative-reservoir.volts']?.limits ?? [];
    expect(limits.length).toBeGreaterThan(0);
    for (const { side, value } of limits) expect([side, value < 0]).toEqual(['low', true]);
  });
});

// A transistor's case may be as hot as 150 degrees C less what its junction is above it (common practice).
it('a filter has the limits of its pass device', () => {
  const { points } = predict(example('goods-crane'), { load: 'typical' });
  expect(points['filter.junction']?.limits.map(({ value }) => value)).toEqual([150]);
  expect(points['filter.case']?.limits[0]?.value).toBeLessThan(150);
});

it('a follower without a heatsink in the filter is named before it cooks', () => {
  const bare = example('goods-crane');
  const { filter } = bare;
  if (filter?.kind !== 'multiplier') throw new Error('the example has no multiplier any more');
  const cooling = { ...filter.cooling, heatsink: 'none' } as const;
  const { advice } = predict({ ...bare, filter: { ...filter, cooling } }, { load: 'full' });
  expect(advice[0]).toMatchObject({ finding: 'heatsink-missing', about: 'filter', severity: 'destroys' });
  expect(advice[0]?.sentence).toMatch(/^The Darlington of the filter turns \d+\.\d W into heat/);
});

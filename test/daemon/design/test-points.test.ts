import { describe, expect, it } from 'vitest';
import { MEASURANDS } from '../../../daemon/design/bench.js';
import {
  closestTestPoints,
  isTestPointId,
  measurandsFor,
  testPointsOf,
} from '../../../daemon/design/test-points.js';
import { UNIT_OF } from '../../../drivers/units.js';
import { cabin } from './signal-cabin.js';

describe('test points', () => {
  it('every rail has five, the rest of the supply five', () => {
    const ids = testPointsOf(cabin());
    expect(ids).toHaveLength(15);
    expect(ids).toContain('lamps.case');
    expect(ids.every(isTestPointId)).toBe(true);
  });

  it.each(['logic', 'logic.', '.volts', 'Logic.volts', 'a.b.c', 'logic volts'])('"%s" is no id', (text) => {
    expect(isTestPointId(text)).toBe(false);
  });

  it('finds what was meant, or what the part has', () => {
    expect(closestTestPoints('logic.vlots', cabin(), 1)).toEqual(['logic.volts']);
    expect(closestTestPoints('logic.brightness', cabin())).toEqual([
      'logic.volts',
      'logic.ripple',
      'logic.dissipation',
    ]);
  });

  it('knows what measures it', () => {
    expect(measurandsFor('logic.case')).toEqual(['temperature']);
    expect(measurandsFor('logic.constructor')).toEqual([]);
  });

  it('benches and drivers measure the same quantities', () => {
    expect([...MEASURANDS].sort()).toEqual(Object.keys(UNIT_OF).sort());
  });
});

import { describe, expect, it } from 'vitest';
import { coldChecks } from '../../../daemon/procedure/cold-checks.js';
import type { Check } from '../../../daemon/procedure/step.js';
import { example } from '../design/topologies.js';

function checks(name: string): Check[] {
  return coldChecks(example(name), []);
}
const idsOf = (list: readonly Check[]): string[] => list.map(({ id }) => id);
const named = (list: readonly Check[], id: string): Check | undefined => list.find((one) => one.id === id);

describe('cold checks', () => {
  it('go round fuse, earth, insulation, polarity, shorts and tabs', () => {
    expect(idsOf(checks('signal-cabin'))).toEqual([
      ...['fuse', 'earth', 'insulation', 'separation'],
      ...['polarity-rectifier', 'polarity-reservoir', 'polarity-parts'],
      ...['short-reservoir', 'short-lamps', 'short-logic', 'tab-lamps', 'tab-logic'],
    ]);
  });

  it('ask for both reservoirs of a split supply and for the follower’s tab of a filter', () => {
    expect(idsOf(checks('turntable'))).toEqual(
      expect.arrayContaining(['polarity-negative-reservoir', 'short-negative-reservoir', 'tab-minus']),
    );
    expect(idsOf(checks('goods-crane'))).toContain('tab-filter');
  });

  it('hold earth and insulation to EN 50699 (VDE 0701-0702): 0.3 ohm, 1 Mohm, 2 Mohm; from memory', () => {
    const list = checks('signal-cabin');
    expect(named(list, 'earth')?.number).toEqual({ unit: 'ohm', low: null, high: 0.3 });
    expect(named(list, 'insulation')?.number).toEqual({ unit: 'ohm', low: 1e6, high: null });
    expect(named(list, 'separation')?.number).toEqual({ unit: 'ohm', low: 2e6, high: null });
    expect(named(list, 'earth')?.waiver).toMatch(/class II/);
    expect(['earth', 'insulation', 'separation'].every((id) => named(list, id)?.vital)).toBe(true);
  });

  it('take no larger fuse than the design has, and some that are smaller', () => {
    const number = named(checks('signal-cabin'), 'fuse')?.number;
    expect(number?.high).toBe(0.315);
    expect(number?.low).toBeLessThan(0.2);
  });

  it('measure across mica, and look where a tab is joined to its heatsink', () => {
    const list = checks('signal-cabin');
    expect(named(list, 'tab-lamps')?.number?.low).toBe(1e6);
    expect(named(list, 'tab-lamps')?.reason).toMatch(/its tab is its output/);
    expect(named(list, 'tab-logic')?.number).toBeNull();
    expect(named(list, 'tab-logic')?.reason).toMatch(/ground/);
  });

  it('know that a negative regulator’s tab is its input (LM337, 79xx datasheets)', () => {
    expect(named(checks('turntable'), 'tab-minus')?.reason).toMatch(/its tab is its input/);
  });
});

import { describe, expect, it } from 'vitest';
import { example, messages } from './topologies.js';

const SHARED = 'TO-3-large, interface: mica-greased, heatsink: back-wall';

describe('heatsinks', () => {
  it.each([
    [
      'bak-wall',
      'rails.crane.cooling.heatsink: found "bak-wall", which doesn\'t stand under heatsinks; allowed are a number of K/W, none, back-wall; did you mean back-wall?',
    ],
    [
      'nonne',
      'rails.crane.cooling.heatsink: found "nonne", which doesn\'t stand under heatsinks; allowed are a number of K/W, none, back-wall; did you mean none?',
    ],
    [
      '-3',
      'rails.crane.cooling.heatsink: found -3; a positive number of K/W, or none for a bare package, is allowed',
    ],
    ['2, heat_capacity: 90', ''],
    [
      'back-wall, heat_capacity: 90',
      'rails.crane.cooling.heat_capacity: found 90; heat_capacity beside a number of K/W is allowed, so leave it out',
    ],
    [
      '{ length_mm: 100, width_mm: 60, hight_mm: 30, fins: 8 }',
      'rails.crane.cooling.heatsink.hight_mm: this key is unknown here; did you mean height_mm?',
    ],
    [
      '{ length_mm: 100, width_mm: 60, height_mm: 30, fins: 60 }',
      'rails.crane.cooling.heatsink.fins: found 60; fins of at most 0.90 mm (fin_mm), for 60 of them must fit 60 mm with air between, is allowed',
    ],
    [
      '{ length_mm: 100, width_mm: 60, height_mm: 3, fins: 8 }',
      'rails.crane.cooling.heatsink.height_mm: found 3; more than the base (3 mm), fins included, is allowed',
    ],
    ['{ length_mm: 100, width_mm: 60, height_mm: 30, fins: 8 }', ''],
    ['{ length_mm: 100, width_mm: 60, height_mm: 3 }', ''],
  ])('%s', (heatsink, message) => {
    const change = [SHARED, SHARED.replace('back-wall', heatsink)] as const;
    if (message === '') expect(example('goods-crane', change).rails['crane']?.cooling).toBeDefined();
    else expect(messages('goods-crane', change)).toEqual([message]);
  });

  it('a shared one called none', () => {
    const text = 'heatsinks:\n  none: 3\n';
    expect(messages('goods-crane', ['heatsinks:\n', text])).toEqual([
      'heatsinks.none: found a heatsink called "none", which means a bare package; another name is allowed',
    ]);
  });

  it('a package and an interface of the filter that nobody knows', () => {
    expect(
      messages('goods-crane', ['package: TO-247, interface: greased', 'package: TO247, interface: glue']),
    ).toEqual([
      'filter.cooling.package: found "TO247", a package that isn\'t in the part library; did you mean TO-247?',
      'filter.cooling.interface: found "glue", an interface that isn\'t in the part library; it has dry, greased, mica-dry, mica-greased, silicone-pad, soldered',
    ]);
  });
});

import { describe, expect, it } from 'vitest';
import { railNeed } from '../../../daemon/design/rail-need.js';
import type { Change } from './signal-cabin.js';
import { example, messages } from './topologies.js';

const PLAIN = `    regulator: '7805'
    from: barriers # not from the reservoir
    cooling: { heatsink: 15 }
`;
/** The 5 V rail of the level crossing with another regulator. */
const flasher = (regulator: string, rest = '    from: barriers\n    cooling: { heatsink: 15 }\n'): Change => [
  PLAIN,
  `    regulator: ${regulator}\n${rest}`,
];
const need = (...change: Parameters<typeof flasher>) => {
  const design = example('level-crossing', flasher(...change));
  const rail = design.rails['flasher'];
  return rail && railNeed(rail, design);
};
const told = (...change: Parameters<typeof flasher>) => messages('level-crossing', flasher(...change));

describe('a rail without a three-terminal regulator', () => {
  // A silicon transistor's base-emitter drop, about 0.65 V: common practice.
  it('zener follower: the zener less a base-emitter drop', () => {
    expect(need('{ kind: zener, zener_volts: 5.6, resistor: 470 }')?.volts).toBeCloseTo(4.95, 9);
  });

  it('switching module: its volts, from its least input on; cooling may be left out', () => {
    const module = '{ kind: switching, volts: 5, minimum_input: 7, efficiency: [[0.1, 80], [1, 90]] }';
    expect(need(module, '    from: barriers\n')).toMatchObject({ volts: 5, dropout: { low: 2 } });
  });

  it('given volts', () => {
    expect(need('{ kind: given, volts: 5, dropout: 1.5 }', '')).toMatchObject({
      volts: 5,
      dropout: { high: 1.5 },
    });
  });

  it.each([
    [
      '{ kind: buck, volts: 5 }',
      'rails.flasher.regulator.kind: found "buck"; zener, switching or given is allowed',
    ],
    [
      '{ kind: given, volts: 9, dropout: 1 }',
      "rails.flasher.regulator.volts: 9 gives 9.00 V, above the load's 5.5 V; a setting from 4.75 to 5.5 V is allowed",
    ],
    [
      '{ kind: given, volts: 5, dropout: 8 }',
      'rails.flasher.from: barriers gives 12.00 V, but this rail needs 13.0 V at its input; a source of at least 13.0 V is allowed',
    ],
    [
      '{ kind: switching, volts: 5, minimum_input: 4, efficiency: [[1, 90]] }',
      "rails.flasher.regulator.minimum_input: found 4; at least its output (5 V), since a module that steps up isn't known here, is allowed",
    ],
    [
      '{ kind: switching, volts: 5, minimum_input: 7, efficiency: [[1, 90], [0.5, 88]] }',
      'rails.flasher.regulator.efficiency.1: found 0.5 A after 1 A; pairs with rising amps are allowed',
    ],
    [
      '{ kind: switching, volts: 5, minimum_input: 7, efficiency: [] }',
      'rails.flasher.regulator.efficiency: found a list; at least one pair of amps and percent is allowed',
    ],
    [
      '{ kind: zener, zener_volts: 0.5, resistor: 470 }',
      'rails.flasher.regulator.zener_volts: found 0.5; 1.5 V or more, for the follower takes 0.65 V of it, is allowed',
    ],
    [
      '{ kind: zener, zener_volts: 5.6, resistor: 470 }\n    r2: 720',
      'rails.flasher.r2: found 720, but a zener follower has no adjust pin; leave r2 out',
    ],
  ])('%s', (regulator, message) => {
    expect(told(regulator)).toEqual([message]);
  });

  it('a zener follower gets hot, so its cooling is needed', () => {
    expect(told('{ kind: zener, zener_volts: 5.6, resistor: 470 }', '')).toEqual([
      'rails.flasher.cooling: missing; cooling with heatsink is needed',
    ]);
  });
});

describe('volts that can not be reached', () => {
  // 15 V x 1.12 x sqrt 2 less two diodes is 22.6 V; 24 V can't come out of it.
  it('24 V from a 15 V winding', () => {
    const [message] = messages(
      'level-crossing',
      ["regulator: '7812'", "regulator: '7824'"],
      ['{ high: 14 }', '{ high: 26 }'],
    );
    expect(message).toMatch(
      /^rails\.barriers\.regulator: asks for 24\.00 V, but a 15 V winding gives at most 22\.\d V unloaded, so at most 21\.\d V after the regulator; lower the rail, or take a winding of at least 18 V$/,
    );
  });

  it('a filter takes some of it', () => {
    const [message] = messages('goods-crane', ['r2: 1200', 'r2: 2200'], ['{ high: 16 }', '{ high: 30 }']);
    expect(message).toMatch(/^rails\.crane\.r2: asks for 24\.\d\d V, .* unloaded \(behind the filter\)/);
  });
});

import { describe, expect, it } from 'vitest';
import type { Change } from './signal-cabin.js';
import { example, messages } from './topologies.js';

const TAPPED =
  '  windings: centre-tapped # or two equal windings joined in series, their joint being the tap\n';
const NEGATIVE: Change = [
  'negative_reservoir: { capacity_uF: 2200, working_volts: 50, bleed: 4700 } # its plus pole goes to ground\n',
  '',
];

describe('transformer, rectifier and reservoirs against each other', () => {
  it('a split bridge without its centre tap', () => {
    expect(messages('turntable', [TAPPED, ''])).toEqual([
      'transformer.windings: found nothing, but a split-bridge rectifier needs a centre tap; centre-tapped, with the volts of one half (9 V if 18 V is the whole winding), is allowed',
    ]);
    expect(messages('turntable', [TAPPED, '  windings: single\n'])[0]).toMatch(
      /^transformer\.windings: found "single"/,
    );
  });

  it('a bridge over a centre-tapped winding, whose volts could be either', () => {
    expect(messages('goods-crane', ['{ volts: 18, va', '{ volts: 18, windings: centre-tapped, va'])).toEqual([
      'transformer.windings: found "centre-tapped", but a bridge rectifier doesn\'t use the tap; single, with the volts of the whole winding (36 V if 18 V is one half), is allowed, or take centre-tap or split-bridge as the rectifier',
    ]);
  });

  it('a negative reservoir that nothing charges', () => {
    expect(
      messages('goods-crane', ['heatsinks:', 'negative_reservoir: { capacity_uF: 1000 }\nheatsinks:']),
    ).toEqual([
      'negative_reservoir: a bridge rectifier charges one reservoir only; a negative reservoir behind a split-bridge rectifier is allowed, so leave it out or change the rectifier',
    ]);
  });

  it('the negative reservoir may be left out', () => {
    expect(example('turntable', NEGATIVE).negative_reservoir).toBeUndefined();
  });

  it.each([
    [
      'capacity_uF: 15000',
      'capacity_uF: 0',
      'reservoir.capacity_uF: found 0; a positive number of microfarads is allowed',
    ],
    [
      'capacity_uF: 470 #',
      'capacity_uF: 0 #',
      'filter.capacity_uF: found 0; a positive number of microfarads is allowed',
    ],
    ['r2: 1200', 'r2: -1200', 'rails.crane.r2: found -1200; a positive number of ohms is allowed'],
    [
      'capacity_uF: 470 #',
      'capacity_uF: 0.00047 #',
      'filter.capacity_uF: found 0.00047; 1 to 1000000 microfarads are allowed; did you mean 470?',
    ],
    [
      'kind: multiplier',
      'kind: choke',
      'filter.kind: found "choke"; multiplier (a capacitance multiplier) or rc (a resistor and a capacitor) is allowed',
    ],
    [
      'follower: darlington',
      'follower: darlingtom',
      'filter.follower: found "darlingtom"; bipolar, darlington, mosfet is allowed; did you mean darlington?',
    ],
  ])('%s written as %s', (from, to, message) => {
    expect(messages('goods-crane', [from, to])).toEqual([message]);
  });

  it('a load of the reservoir that shrinks', () => {
    const load = 'load: { idle: 0.2, typical: 0.1, full: { amps: 0.1, ohms: 100 } }';
    expect(messages('goods-crane', ['bleed: 1000 }', `bleed: 1000, ${load} }`])).toEqual([
      'reservoir.load.typical: found 0.1; at least the idle amps (0.2) is allowed',
    ]);
  });
});

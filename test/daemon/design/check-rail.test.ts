import { describe, expect, it } from 'vitest';
import { cabin, designMessage } from './signal-cabin.js';

const D = 'signal-cabin.design.yaml';

const WRONG: readonly (readonly [title: string, from: string, to: string, message: string])[] = [
  [
    'swapped digits of a regulator',
    'regulator: LM317',
    'regulator: LM371',
    `${D}:37 rails.lamps.regulator: found "LM371", a regulator that isn't in the part library; did you mean LM317?`,
  ],
  [
    "a maker's prefix",
    'regulator: 7805',
    'regulator: LM7805CT',
    `${D}:53 rails.logic.regulator: found "LM7805CT", a regulator that isn't in the part library; did you mean 7805?`,
  ],
  [
    'a package without its hyphen',
    'package: TO-220\n      interface: mica-greased',
    'package: TO220\n      interface: mica-greased',
    `${D}:42 rails.lamps.cooling.package: found "TO220", a package that isn't in the part library; did you mean TO-220?`,
  ],
  [
    'an interface that nobody knows',
    'interface: greased',
    'interface: chewing gum',
    `${D}:56 rails.logic.cooling.interface: found "chewing gum", an interface that isn't in the part library; it has dry, greased, mica-dry, mica-greased, silicone-pad, soldered`,
  ],
  [
    'a full load below the typical',
    'full: 0.28',
    'full: 0.1',
    `${D}:61 rails.logic.load.full: found 0.1; at least the typical amps (0.2) is allowed`,
  ],
  [
    'damage from both sides at once, told once',
    'low: 4.75',
    'low: 6',
    `${D}:63 rails.logic.damage.low: found 6; less than damage.high (5.5 V) is allowed`,
  ],
  [
    'an adjustable regulator without R1',
    '    r1: 240 # output to adjust\n',
    '',
    `${D}:36 rails.lamps.r1: missing; the LM317 is adjustable and needs ohms from output to adjust (240 is usual)`,
  ],
  [
    'a fixed regulator with R2',
    'regulator: 7805',
    'regulator: 7805\n    r2: 720',
    `${D}:54 rails.logic.r2: found 720, but the 7805 has a fixed output and no adjust pin; leave r2 out`,
  ],
  [
    'a negative regulator',
    'regulator: 7805',
    'regulator: 7905',
    `${D}:53 rails.logic.regulator: found "7905", a negative regulator, but the reservoir is positive; a positive regulator is allowed`,
  ],
];

describe('a rail that contradicts itself', () => {
  it.each(WRONG)('%s', (_title, from, to, message) => {
    expect(designMessage(from, to)).toBe(message);
  });

  it('takes a bare part number as a name', () => {
    expect(cabin().rails['logic']?.regulator).toBe('7805');
  });
});

import { describe, expect, it } from 'vitest';
import { cabin, designMessage } from './signal-cabin.js';

const D = 'signal-cabin.design.yaml';

const WRONG: readonly (readonly [title: string, from: string, to: string, message: string])[] = [
  [
    'farads where microfarads are asked for',
    'capacity_uF: 4700',
    'capacity_uF: 0.0047',
    `${D}:29 reservoir.capacity_uF: found 0.0047; 1 to 1000000 microfarads are allowed; did you mean 4700?`,
  ],
  [
    'milliamps where amps are asked for',
    'full: 0.28',
    'full: 280',
    `${D}:61 rails.logic.load.full: found 280; 0 to 20 amps are allowed; did you mean 0.28?`,
  ],
  [
    'kilohms where ohms are asked for',
    'r1: 240',
    'r1: 0.24',
    `${D}:38 rails.lamps.r1: found 0.24; 10 to 20000 ohms are allowed; did you mean 240?`,
  ],
  [
    'no rating',
    'va: 30 # or amps: 2',
    '# no rating',
    `${D}:18 transformer: its rating is missing; va (its rating in VA) or amps (its rated secondary RMS amps) is needed`,
  ],
  [
    'two ratings that disagree',
    'va: 30 # or amps: 2',
    'va: 30\n  amps: 3',
    `${D}:21 transformer.amps: found 3, which contradicts 30 VA at 15 V; 2.00, or one of va and amps alone, is allowed`,
  ],
  [
    'a winding without resistance',
    'regulation_percent: 12',
    'regulation_percent: 0',
    `${D}:21 transformer.regulation_percent: found 0; a number from 0.1 to 100 (percent) is allowed`,
  ],
  [
    'regulation twice',
    'fuse_amps: 0.315',
    'winding_ohms: 0.9',
    `${D}:22 transformer.winding_ohms: found beside regulation_percent; regulation_percent or winding_ohms, not both, is allowed, since one gives the other`,
  ],
  [
    'a letter in a diode',
    'diode: 1N4007',
    'diode: IN4007',
    `${D}:26 rectifier.diode: found "IN4007", a diode that isn't in the part library; did you mean 1N4007?`,
  ],
  [
    'a highest ambient below the typical',
    'typical: 22',
    'typical: 40',
    `${D}:15 mains.ambient.highest: found 35; 40 (typical) or more degrees C is allowed, since the highest can't lie below the typical`,
  ],
  [
    'a test point of a rail that is misspelt',
    'logic.case:',
    'logik.case:',
    `${D}:68 points.logik.case: this design has no such test point; did you mean logic.case?`,
  ],
  [
    'limits in the wrong order',
    'label: logic regulator tab',
    'limit: { low: 90, high: 70 }',
    `${D}:69 points.logic.case.limit.low: found 90; a low limit below the high one (70) is allowed`,
  ],
];

describe('a design that contradicts itself', () => {
  it.each(WRONG)('%s', (_title, from, to, message) => {
    expect(designMessage(from, to)).toBe(message);
  });

  it('a rail that is called like a part', () => {
    const [first] = designMessage('  logic:\n', '  reservoir:\n').split('\n');
    expect(first).toBe(
      `${D}:52 rails.reservoir: found a rail called "reservoir", which is the name of a part; a rail name other than mains, transformer, rectifier, reservoir, negative-reservoir, filter, ambient is allowed`,
    );
  });

  it('takes amps instead of VA, and ohms instead of regulation', () => {
    const design = cabin(['va: 30 # or amps: 2', 'amps: 2'], ['regulation_percent: 12', 'winding_ohms: 0.9']);
    expect(design.transformer).toMatchObject({ amps: 2, winding_ohms: 0.9 });
  });
});

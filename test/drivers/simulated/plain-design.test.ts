import { describe, expect, it } from 'vitest';
import { beyondPlain, BeyondPlain, plainDesign } from '../../../drivers/simulated/plain-design.js';
import { cabin } from '../../daemon/design/signal-cabin.js';
import { example } from '../../daemon/design/topologies.js';

describe('a plain design', () => {
  it('is itself', () => {
    const design = cabin();
    expect(plainDesign(design)).toBe(design);
    expect(beyondPlain(example('level-crossing'))).toEqual([]);
  });

  it('is told from what is more', () => {
    expect(beyondPlain(example('turntable'))).toEqual(['rectifier.kind']);
    expect(beyondPlain(example('goods-crane'))).toEqual(['filter', 'parts', 'rails.crane.cooling.heatsink']);
    expect(() => plainDesign(example('turntable'))).toThrow(BeyondPlain);
    expect(() => plainDesign(example('turntable'))).toThrow(
      /^rectifier\.kind: the simulated bench knows only one reservoir/,
    );
  });

  it.each([
    ['load: { idle: 0.05, typical: 0.1, full: { ohms: 30 } }', 'rails.flasher.load'],
    [
      'load: { idle: 0.05, typical: 0.1, full: 0.2 }\n    series: { ohms: 2, watts: 1 }',
      'rails.flasher.series',
    ],
  ])('%s', (text, key) => {
    const design = example('level-crossing', ['load: { idle: 0.03, typical: 0.1, full: 0.2 }', text]);
    expect(beyondPlain(design)).toEqual([key]);
  });
});

import { describe, expect, it } from 'vitest';
import { nodesOf, originOf, polarityOf } from '../../../daemon/design/feeds.js';
import { checkFeeds } from '../../../daemon/design/check-feeds.js';
import { cabin } from './signal-cabin.js';
import { example, messages } from './topologies.js';

const rail = (design: ReturnType<typeof example>, name: string) => {
  const found = design.rails[name];
  if (found === undefined) throw new Error(`the example has lost its rail ${name}`);
  return found;
};

describe('where a rail comes from', () => {
  it('every topology has its nodes', () => {
    expect(nodesOf(cabin())).toEqual(['reservoir']);
    expect(nodesOf(example('turntable'))).toEqual(['reservoir', 'negative-reservoir']);
    expect(nodesOf(example('goods-crane'))).toEqual(['reservoir', 'filter']);
  });

  it('is found through other rails, and gives the polarity', () => {
    const turntable = example('turntable');
    const behind = { ...rail(turntable, 'plus'), from: 'minus' };
    expect(originOf(behind, turntable)).toBe('negative-reservoir');
    expect(polarityOf(behind, turntable)).toBe('negative');
    expect(polarityOf(rail(turntable, 'plus'), turntable)).toBe('positive');
  });

  it('is nowhere for rails that feed each other', () => {
    const turntable = example('turntable');
    const rails = {
      plus: { ...rail(turntable, 'plus'), from: 'minus' },
      minus: { ...rail(turntable, 'minus'), from: 'plus' },
    };
    expect(originOf(rails.plus, { rails })).toBeNull();
    expect(checkFeeds({ ...turntable, rails })[0]?.sentence).toMatch(/^plus from minus from plus: /);
  });

  it('must exist', () => {
    expect(messages('turntable', ['from: negative-reservoir', 'from: filter'])[0]).toBe(
      'rails.minus.from: found "filter", but the design has no filter; describe one under filter, or allowed are reservoir, negative-reservoir, plus',
    );
    expect(messages('goods-crane', ['from: filter', 'from: negative-reservoir'])[0]).toBe(
      'rails.crane.from: found "negative-reservoir", but a bridge rectifier charges no negative reservoir; take kind split-bridge, or allowed are reservoir, filter',
    );
  });
});

describe('polarities', () => {
  it('a negative regulator on the positive reservoir', () => {
    expect(messages('turntable', ['    from: negative-reservoir\n', ''])).toEqual([
      'rails.minus.regulator: found "LM337", a negative regulator, but the reservoir is positive; a positive regulator, or from: negative-reservoir, is allowed',
    ]);
  });

  it('a positive regulator on the negative reservoir', () => {
    expect(messages('turntable', ['regulator: LM337', 'regulator: LM317'])).toEqual([
      'rails.minus.regulator: found "LM317", a positive regulator, but the negative-reservoir is negative; a negative regulator, or from: reservoir, is allowed',
    ]);
  });
});

import { describe, expect, it } from 'vitest';
import { supplyBlocks } from '../../web/supply-blocks.js';
import { POINTS, SUPPLY } from './signal-cabin.js';

describe('the blocks of the map', () => {
  it('hold each test point once, with what stands around at the end', () => {
    const blocks = supplyBlocks(SUPPLY, POINTS);
    expect(blocks.flatMap(({ points }) => points.map(({ id }) => id)).toSorted()).toEqual(
      POINTS.map(({ id }) => id).toSorted(),
    );
    expect(blocks.map(({ title }) => title)).toEqual([
      'Mains',
      'Transformer',
      'Rectifier',
      'Reservoir',
      'Lamps rail',
      'Logic rail',
      'Air around it',
    ]);
  });

  it('stand behind what feeds them, whatever order the daemon names them in', () => {
    const blocks = SUPPLY.blocks.toReversed();
    expect(supplyBlocks({ ...SUPPLY, blocks }, []).map(({ part }) => part)).toEqual([
      'mains',
      'transformer',
      'rectifier',
      'reservoir',
      'logic',
      'lamps',
    ]);
  });

  it('come to an end where rails feed each other', () => {
    const [mains, ...rest] = SUPPLY.blocks;
    const loop = [mains!, ...rest.map((block) => ({ ...block, from: 'logic' }))];
    expect(supplyBlocks({ ...SUPPLY, blocks: loop }, []).map(({ part }) => part)).toEqual(['mains']);
  });
});

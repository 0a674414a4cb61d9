import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { loadDesign } from '../../../daemon/design/load.js';
import { supplyView } from '../../../daemon/serve/supply-view.js';

const EXAMPLES = fileURLToPath(new URL('../../../daemon/design/examples', import.meta.url));

async function viewOf(name: string) {
  const text = await readFile(`${EXAMPLES}/${name}/${name}.design.yaml`, 'utf8');
  const loaded = loadDesign(text, `${name}.design.yaml`);
  return supplyView({ design: loaded, advice: [], faults: [] });
}

/** Who feeds whom, read off the design files by eye. */
describe('the supply as its design joins it', () => {
  it('is a chain with a rail at its end for each rail', async () => {
    const { blocks, rectifier } = await viewOf('signal-cabin');
    expect(rectifier).toBe('bridge');
    expect(blocks.map(({ part, from }) => `${from} > ${part}`)).toEqual([
      'null > mains',
      'mains > transformer',
      'transformer > rectifier',
      'rectifier > reservoir',
      'reservoir > lamps',
      'reservoir > logic',
    ]);
    expect(blocks.map(({ detail }) => detail)).toEqual([
      '230 V, 50 Hz',
      '15 V, 30 VA',
      'bridge, 1N4007',
      '4700 µF, 35 V',
      'LM317, heatsink 8 K/W',
      '7805, heatsink 8 K/W',
    ]);
  });

  it('has a rail behind the rail that feeds it', async () => {
    const { blocks } = await viewOf('level-crossing');
    expect(blocks.map(({ part, from }) => `${from} > ${part}`).slice(-2)).toEqual([
      'reservoir > barriers',
      'barriers > flasher',
    ]);
  });

  it('has two reservoirs behind a split bridge', async () => {
    const { blocks } = await viewOf('turntable');
    expect(blocks.map(({ part, from }) => `${from} > ${part}`).slice(3)).toEqual([
      'rectifier > reservoir',
      'rectifier > negative-reservoir',
      'reservoir > plus',
      'negative-reservoir > minus',
    ]);
  });

  it('has the filter between reservoir and rail', async () => {
    const { blocks } = await viewOf('goods-crane');
    expect(blocks.at(-2)).toMatchObject({ part: 'filter', from: 'reservoir', detail: 'darlington follower' });
    expect(blocks.at(-1)).toMatchObject({ part: 'crane', from: 'filter', detail: 'LM338, on back-wall' });
  });
});

it('gives each part its own advice and faults', async () => {
  const text = await readFile(`${EXAMPLES}/signal-cabin/signal-cabin.design.yaml`, 'utf8');
  const advice = {
    finding: 'heatsink-small',
    about: 'logic',
    severity: 'misbehaves',
    sentence: 'It gets hot.',
    cure: 'Fit 5 K/W.',
    numbers: {},
    reason: '',
    cures: [],
  } as const;
  const faults = [{ fault: 'heatsink-loose', about: 'lamps', title: 'the heatsink is loose' }];
  const { blocks } = supplyView({ design: loadDesign(text, 'x'), advice: [advice], faults });
  const [lamps, logic] = blocks.slice(-2);
  expect(logic?.advice.map(({ cure }) => cure)).toEqual(['Fit 5 K/W.']);
  expect(lamps?.advice).toEqual([]);
  expect(lamps?.faults).toEqual([{ fault: 'heatsink-loose', title: 'the heatsink is loose' }]);
});

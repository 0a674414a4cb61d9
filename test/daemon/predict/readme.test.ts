import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { LOAD_STATES } from '../../../daemon/design/design.js';
import { predict } from '../../../daemon/predict/predict.js';
import { example } from '../design/topologies.js';

const PAGE = readFileSync(new URL('../../../daemon/predict/README.md', import.meta.url), 'utf8');

describe('the page on the printed JSON', () => {
  it.each(['signal-cabin', 'level-crossing', 'goods-crane', 'turntable'])('names every key of %s', (name) => {
    for (const load of LOAD_STATES) {
      const prediction = predict(example(name), { load });
      const keys = [
        ...Object.keys(prediction),
        ...Object.values(prediction.points).flatMap((point) => [...Object.keys(point), point.unit]),
        ...Object.keys(prediction.points).map((id) => id.split('.')[1] ?? ''),
        ...Object.values(prediction.parts).flatMap(Object.keys),
        ...prediction.advice.flatMap((advice) => [...Object.keys(advice), advice.finding, advice.severity]),
      ];
      const missing = [...new Set(keys)].filter((key) => !PAGE.includes(`\`${key}\``));
      expect(missing).toEqual([]);
    }
  });

  it('is JSON without holes: nothing that can be lost on the way', () => {
    const prediction = predict(example('goods-crane'), { load: 'full' });
    expect(JSON.parse(JSON.stringify(prediction))).toEqual(prediction);
  });
});

import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { loadBench } from '../../../daemon/design/load.js';
import { example, exampleText } from './topologies.js';

describe.each(['signal-cabin', 'level-crossing', 'turntable', 'goods-crane'])('the example %s', (name) => {
  it('loads, and its bench finds its test points', () => {
    const design = example(name);
    const bench = loadBench(exampleText(name, 'bench'), `${name}.bench.yaml`, design);
    expect(Object.keys(bench.instruments).length).toBeGreaterThan(1);
  });

  it('says what it is in about ten lines, and warns', () => {
    const folder = new URL(`../../../daemon/design/examples/${name}/`, import.meta.url);
    const text = readFileSync(new URL('README.md', folder), 'utf8');
    expect(text.split('\n').length).toBeLessThanOrEqual(14);
    expect(text).toMatch(/[Mm]ains/);
  });
});

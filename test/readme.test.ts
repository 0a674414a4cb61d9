import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { joinInstruments } from '../daemon/channels.js';
import { loadBench, loadDesign } from '../daemon/design/load.js';
import { predict } from '../daemon/predict/predict.js';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const text = readFileSync(`${ROOT}README.md`, 'utf8');
const [design = '', bench = ''] = [...text.matchAll(/```yaml\n([^]*?)```/g)].map((block) => block[1]);

describe('the README', () => {
  it('shows a design that loads, and of which nothing cooks', () => {
    const { advice, points } = predict(loadDesign(design, 'README.md'), { load: 'full' });
    expect(advice.filter(({ severity }) => ['destroys', 'misbehaves'].includes(severity))).toEqual([]);
    expect(points['lamps.volts']?.nominal).toBeCloseTo(12.03, 2);
  });

  it('shows a bench that fits that design and its drivers', () => {
    const value = loadBench(bench, 'README.md', loadDesign(design, 'README.md'));
    const joined = joinInstruments({ file: 'README.md', text: bench, value });
    expect(joined.flatMap(({ probes }) => [...probes.values()])).toEqual([
      'reservoir.volts',
      'lamps.case',
      'logic.case',
    ]);
  });

  it('points at files that are there', () => {
    const links = [...text.matchAll(/\]\((?!http)([^)#]+)\)/g)].map((link) => link[1] ?? '');
    expect(links.length).toBeGreaterThan(2);
    for (const link of links) expect(existsSync(`${ROOT}${link}`), link).toBe(true);
  });
});

import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { joinInstruments } from '../daemon/channels.js';
import { loadBench, loadDesign } from '../daemon/design/load.js';
import { predict } from '../daemon/predict/predict.js';
import { readingsOf } from './drivers/events.js';
import { textLineEvents } from './drivers/text-lines/events-of.js';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const text = readFileSync(`${ROOT}README.md`, 'utf8');
const [design = '', bench = '', boards = ''] = [...text.matchAll(/```yaml\n([^]*?)```/g)].map(
  (block) => block[1],
);

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

  it('shows boards whose lines read as it says', () => {
    const value = loadBench(boards, 'README.md', loadDesign(design, 'README.md'));
    joinInstruments({ file: 'README.md', text: boards, value });
    const printed: Readonly<Record<string, string>> = {
      lines: '12:04:31 lamps 41,3 °C; U 12060 mV',
      several: 'TEMP1=41.3C\nTEMP2=OL',
      table: '12,41.3,38.9',
      objects: '{"rails": {"logic": 5012}}',
    };
    const printing = Object.entries(value.instruments).filter(([name]) => name in printed);
    const read = printing.map(([name, { options }]) =>
      readingsOf(textLineEvents(options, `alf a line\n${printed[name] ?? ''}\n`)),
    );
    expect(read).toEqual([
      ['lamps.case 41.3 degC', 'lamps.volts 12.06 V'],
      ['lamps.case 41.3 degC', 'logic.case overload degC'],
      ['lamps.case 41.3 degC', 'logic.case 38.9 degC'],
      ['logic.volts 5.012 V'],
    ]);
  });

  it('points at files that are there', () => {
    const links = [...text.matchAll(/\]\((?!http)([^)#]+)\)/g)].map((link) => link[1] ?? '');
    expect(links.length).toBeGreaterThan(2);
    for (const link of links) expect(existsSync(`${ROOT}${link}`), link).toBe(true);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { designSchema } from '../../../daemon/design/design.js';
import { FileProblems, loadBench, loadDesign } from '../../../daemon/design/load.js';
import { BENCH_TEXT, cabin, changed, DESIGN_TEXT, problemsOf } from './signal-cabin.js';

describe('loadDesign', () => {
  it('fills defaults in and notes which', () => {
    const design = cabin(['  tolerance: EN 50160', '  # tolerance'], ['  tolerance_percent: 20\n', '']);
    expect(design.mains.tolerance).toBe('EN 50160');
    expect(design.reservoir.tolerance_percent).toBe(20);
    expect(design.defaulted).toEqual([
      'mains.tolerance',
      'reservoir.tolerance_percent',
      'rails.lamps.from',
      'rails.lamps.resistor_tolerance_percent',
      'rails.logic.from',
      'rails.logic.resistor_tolerance_percent',
    ]);
  });

  it('gives a design that can be written as JSON and read again', () => {
    const design = cabin();
    expect(designSchema.parse(JSON.parse(JSON.stringify(design)))).toEqual(design);
  });

  it('refuses a file that notes its defaults by itself', () => {
    const text = changed(DESIGN_TEXT, 'design: signal cabin', 'design: signal cabin\ndefaulted: []');
    expect(problemsOf(() => loadDesign(text, 'cabin.yaml')).message).toBe(
      'cabin.yaml:8 defaulted: this key is noted on loading and may not be written; leave it out',
    );
  });

  it.each(['', '# only a remark', 'null'])('says that a file is empty: %j', (text) => {
    expect(problemsOf(() => loadDesign(text, 'cabin.yaml')).message).toBe('cabin.yaml:1: the file is empty');
  });

  it('says in one line that the files were named the wrong way round', () => {
    expect(problemsOf(() => loadDesign(BENCH_TEXT, 'cabin.bench.yaml')).message).toMatch(
      /^cabin\.bench\.yaml:\d+ bench: this is a bench file; name a \*\.design\.yaml file here$/,
    );
    expect(problemsOf(() => loadBench(DESIGN_TEXT, 'cabin.design.yaml')).message).toMatch(
      /^cabin\.design\.yaml:\d+ design: this is a design file; name a \*\.bench\.yaml file here$/,
    );
  });

  it('says the parts of a problem apart', () => {
    const text = changed(DESIGN_TEXT, 'r2: 2050', 'r2: -5');
    expect(problemsOf(() => loadDesign(text, 'cabin.yaml')).problems).toEqual([
      {
        file: 'cabin.yaml',
        line: 39,
        key: 'rails.lamps.r2',
        found: '-5',
        allowed: 'a positive number of ohms',
        text: 'cabin.yaml:39 rails.lamps.r2: found -5; a positive number of ohms is allowed',
      },
    ]);
  });

  it('either loads or says what is wrong, whatever a line of the example is replaced with (seed 7)', () => {
    const lines = DESIGN_TEXT.split('\n');
    const junk = fc.oneof(
      fc.string({ maxLength: 30 }),
      fc.constantFrom('  - x', '  a: {b: [', 'rails:', '  volts: 1e999'),
    );
    fc.assert(
      fc.property(fc.nat(lines.length - 1), junk, (line, text) => {
        const file = lines.with(line, text).join('\n');
        try {
          loadDesign(file, 'cabin.yaml');
        } catch (error) {
          expect(error).toBeInstanceOf(FileProblems);
          expect((error as FileProblems).message).toMatch(/^cabin\.yaml:\d+( \S.*)?: \S/);
          expect((error as FileProblems).message).not.toMatch(
            /Invalid |Unrecognized|Too (small|big)|undefined|NaN/,
          );
        }
      }),
      { numRuns: 150, seed: 7 },
    );
  });
});

describe('loadBench', () => {
  it('fills the accuracy and the speed in', () => {
    const bench = loadBench(BENCH_TEXT, 'cabin.bench.yaml');
    expect(bench.instruments['probes']).toMatchObject({ link: { baud: 115_200 }, channels: {} });
    expect(bench.instruments['meter']?.channels['volts']?.accuracy).toEqual({
      percent: 0.1,
      counts: 3,
      resolution: 0.001,
    });
  });
});

import { describe, expect, it } from 'vitest';
import type { Measurand } from '../../../drivers/driver.js';
import { lineBoardDevice } from '../../../drivers/simulated/line-board-device.js';
import type { LineBoardOptions } from '../../../drivers/simulated/line-board-device.js';
import { linePieces } from '../../../drivers/simulated/line-pattern.js';
import { seededRandom } from '../../../drivers/simulated/random.js';
import { manualClock } from '../../manual-clock.js';

const QUIET = { uniform: () => 0.5, normal: () => 0 };

function boardOnTable(options: Partial<LineBoardOptions> & { patterns: readonly string[] }) {
  const clock = manualClock();
  let said = '';
  const device = lineBoardDevice({
    end: { send: (bytes) => (said += new TextDecoder().decode(bytes)), onBytes: () => undefined },
    clock,
    random: QUIET,
    intervalMs: 1000,
    measurandOf: () => undefined,
    measure: () => 41.26,
    ...options,
  });
  device.start();
  return {
    clock,
    device,
    after(ms: number): string {
      said = '';
      clock.advance(ms);
      return said;
    },
  };
}

describe('lines', () => {
  it('come at the interval, in the words of the pattern, temperatures in tenths', () => {
    const board = boardOnTable({ patterns: ['T1: {lamps.case} C, T2: {logic.case} C'] });
    expect(board.after(999)).toBe('');
    expect(board.after(1)).toBe('T1: 41.3 C, T2: 41.3 C\r\n');
    expect(board.after(2000)).toBe('T1: 41.3 C, T2: 41.3 C\r\n'.repeat(2));
  });

  it('have as many decimals as the quantity deserves, prefixes counted', () => {
    const values: Partial<Record<Measurand, number>> = { 'dc-volts': 12.0345, 'dc-amps': 0.25 };
    const measure = (_name: string, measurand: Measurand) => values[measurand] ?? null;
    const board = boardOnTable({ patterns: ['{a} V {b} mA {c} mV'], measure });
    expect(board.after(1000)).toBe('12.03 V 250 mA 12035 mV\r\n');
  });

  it('of several patterns come together', () => {
    const board = boardOnTable({ patterns: ['A {a} V', 'B {b} V'], measure: () => 1 });
    expect(board.after(1000)).toBe('A 1.00 V\r\nB 1.00 V\r\n');
  });

  it('without a unit measure what the channel says', () => {
    const board = boardOnTable({ patterns: ['{a}'], measurandOf: () => 'temperature' });
    expect(board.after(1000)).toBe('41.3\r\n');
  });

  it('say OL where there is nothing to measure', () => {
    expect(boardOnTable({ patterns: ['R {a} ohm'], measure: () => null }).after(1000)).toBe('R OL ohm\r\n');
  });

  it('stop with the power and begin afresh', () => {
    const board = boardOnTable({ patterns: ['T {a} C'] });
    board.device.stop();
    expect(board.after(5000)).toBe('');
    board.device.start();
    expect(board.after(1000)).toBe('T 41.3 C\r\n');
  });

  it('scatter a little (seed 2)', () => {
    const board = boardOnTable({ patterns: ['{a} C'], random: seededRandom(2) });
    const shown = board.after(50_000).trim().split('\r\n').map(parseFloat);
    expect(shown).toHaveLength(50);
    expect(new Set(shown).size).toBeGreaterThan(1);
    for (const celsius of shown) expect(Math.abs(celsius - 41.26)).toBeLessThan(0.35);
  });
});

describe('the bead', () => {
  it('follows a step with its three seconds', () => {
    let surface = 20;
    const board = boardOnTable({ patterns: ['{a} C'], intervalMs: 3000, measure: () => surface });
    board.after(3000);
    surface = 120;
    // 1 - 1/e of 100 K after one time constant, to the half second at which the bead is looked at.
    expect(parseFloat(board.after(3000))).toBeCloseTo(20 + 100 * (1 - Math.exp(-1)), 0);
    expect(parseFloat(board.after(30_000).trim().split('\r\n').at(-1) ?? '')).toBeCloseTo(120, 1);
  });
});

describe('patterns', () => {
  it('come apart into words and numbers with their units', () => {
    expect(linePieces('T: {logic.case} °C')).toEqual([
      { kind: 'words', text: 'T: ' },
      { kind: 'number', name: 'logic.case', unit: { measures: 'temperature', power: 0 } },
      { kind: 'words', text: ' °C' },
    ]);
  });

  it('know no unit where none follows', () => {
    expect(linePieces('{a}, {b} things')).toMatchObject([
      { name: 'a', unit: { measures: null } },
      { text: ', ' },
      { name: 'b', unit: { measures: null } },
      { text: ' things' },
    ]);
  });

  it('take a brace without a partner as a plain character', () => {
    expect(linePieces('a { b')).toEqual([{ kind: 'words', text: 'a { b' }]);
  });
});

import { describe, expect, it } from 'vitest';
import { characterOf } from '../../../drivers/lcd-frames/digits.js';
import type { Segment } from '../../../drivers/lcd-frames/layout.js';

describe('characterOf', () => {
  // Common practice: the usual shapes on a seven-segment display, counted bar by bar.
  it.each([
    ['0', 6],
    ['1', 2],
    ['2', 5],
    ['3', 5],
    ['4', 4],
    ['5', 5],
    ['6', 6],
    ['7', 3],
    ['8', 7],
    ['9', 6],
  ])('%s has %d bars', (character, count) => {
    const all: Segment[] = ['a', 'b', 'c', 'd', 'e', 'f', 'g'];
    const subsets = Array.from({ length: 128 }, (_, bits) => all.filter((__, index) => (bits >> index) & 1));
    const shapes = subsets.filter((bars) => characterOf(bars) === character);
    expect(shapes.map((bars) => bars.length)).toEqual([count]);
  });

  it('takes a lone middle bar for no character', () => {
    expect(characterOf(['g'])).toBeNull();
    expect(characterOf([])).toBe(' ');
  });
});

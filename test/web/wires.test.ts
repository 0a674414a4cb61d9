import { describe, expect, it } from 'vitest';
import { wirePath } from '../../web/wires.js';

const box = (left: number, top: number) => ({ left, top, width: 100, height: 80 });

describe('a wire', () => {
  it('between neighbours is straight', () => {
    expect(wirePath(box(0, 0), box(124, 0), { alone: true, lane: 0, rowBottom: 80 })).toBe('M100 22H124');
    expect(wirePath(box(0, 0), box(0, 110), { alone: true, lane: 0, rowBottom: 80 })).toBe('M22 80V110');
  });

  it('to the next row goes along the gaps and enters from the left', () => {
    expect(wirePath(box(372, 0), box(124, 110), { alone: false, lane: 0, rowBottom: 80 })).toBe(
      'M394 80V90H114V132H124',
    );
  });

  it('passes beneath a taller block of its row', () => {
    const place = { alone: false, lane: 0, rowBottom: 95 };
    expect(wirePath(box(372, 0), box(124, 125), place)).toBe('M394 80V105H114V147H124');
  });

  it('of another feeding block keeps apart', () => {
    expect(wirePath(box(372, 0), box(124, 110), { alone: false, lane: 2, rowBottom: 80 })).toBe(
      'M394 80V100H104V132H124',
    );
  });
});

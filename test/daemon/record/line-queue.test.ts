import { describe, expect, it } from 'vitest';
import { LineQueue } from '../../../daemon/record/line-queue.js';

describe('LineQueue', () => {
  it('gives everything back in order while there is room', () => {
    const queue = new LineQueue(10_000);
    queue.push('a', 'sample');
    queue.push('b', 'event');
    const { lines, dropped } = queue.take();
    expect(lines.map(({ text }) => text)).toEqual(['a', 'b']);
    expect({ dropped, length: queue.length }).toEqual({ dropped: 0, length: 0 });
  });

  it('drops the oldest samples, then the oldest events, never a declaration', () => {
    const queue = new LineQueue(1_000);
    queue.push('channel', 'declaration');
    for (let i = 0; i < 50; i += 1) queue.push(`sample ${i}`, 'sample');
    for (let i = 0; i < 50; i += 1) queue.push(`event ${i}`, 'event');
    const { lines, dropped } = queue.take();
    const texts = lines.map(({ text }) => text);
    expect(texts[0]).toBe('channel');
    expect(texts.at(-1)).toBe('event 49');
    expect(texts.some((text) => text.startsWith('sample'))).toBe(false);
    expect(dropped).toBe(101 - texts.length);
    expect(queue.droppedInAll).toBe(dropped);
  });
});

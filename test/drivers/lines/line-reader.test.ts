import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { byteLineReader, lineReader } from '../../../drivers/lines/line-reader.js';

function readerWithNotes(skipFirst = false) {
  const lines: [text: string, atMs: number][] = [];
  const faults: string[] = [];
  const reader = lineReader({
    onLine: (text, atMs) => void lines.push([text.trimEnd(), atMs]),
    onFault: (code) => void faults.push(code),
    skipFirst,
  });
  return { reader, lines, faults };
}

describe('lineReader', () => {
  it('tells each line before push returns, with the time of the chunk that ended it', () => {
    const { reader, lines } = readerWithNotes();
    reader.push(Buffer.from('12.0'), 5);
    expect([lines.length, reader.midLine]).toEqual([0, true]);
    reader.push(Buffer.from('6 V\r\nnext\n'), 9);
    expect(lines).toEqual([
      ['12.06 V', 9],
      ['next', 9],
    ]);
    expect(reader.midLine).toBe(false);
  });

  it('tells nothing of empty lines', () => {
    const { reader, lines } = readerWithNotes();
    reader.push(Buffer.from('\n\r\n\ra\n'), 0);
    expect(lines.map(([text]) => text).filter((text) => text !== '')).toEqual(['a']);
  });

  it('is silent after its end, even when the end comes from within a line', () => {
    const told: string[] = [];
    const reader = lineReader({
      onLine: (text) => {
        told.push(text);
        reader.end();
      },
      onFault: () => told.push('fault'),
    });
    reader.push(Buffer.from('one\ntwo\n\0\nthree\n'), 0);
    reader.push(Buffer.from('four\n'), 1);
    expect(told).toEqual(['one']);
  });

  it('gives the same lines as bytes', () => {
    const told: string[] = [];
    const onLine = (line: Uint8Array): void => void told.push(Buffer.from(line).toString('utf8'));
    const reader = byteLineReader({ onLine, onFault: () => undefined });
    reader.push(Buffer.from('41.3 °C\nx'), 0);
    reader.push(Buffer.from('y\n'), 1);
    expect(told).toEqual(['41.3 °C', 'xy']);
  });

  it('gives the same lines for every way of cutting the stream (seed 20)', () => {
    const line = fc.string({ unit: 'grapheme', maxLength: 20 }).map((text) => text.replace(/[\0\r\n]/g, ''));
    const ends = fc.constantFrom('\n', '\r\n', '\r');
    fc.assert(
      fc.property(fc.array(line), ends, fc.array(fc.integer({ min: 1, max: 7 })), (texts, end, sizes) => {
        const { reader, lines, faults } = readerWithNotes();
        const bytes = Buffer.from(texts.map((text) => text + end).join(''));
        for (let at = 0, turn = 0; at < bytes.length; turn += 1) {
          const size = sizes[turn % sizes.length] ?? 3;
          reader.push(Buffer.from(bytes.subarray(at, at + size)), 0);
          at += size;
        }
        const told = lines.map(([text]) => text).filter((text) => text !== '');
        expect(told).toEqual(texts.map((text) => text.trimEnd()).filter((text) => text !== ''));
        expect(faults).toEqual([]);
      }),
      { seed: 20 },
    );
  });
});

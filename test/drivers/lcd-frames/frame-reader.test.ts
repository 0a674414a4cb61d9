import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FrameReader } from '../../../drivers/lcd-frames/frame-reader.js';
import { randomBytes } from '../random-bytes.js';
import { meterFrame } from './meter-frames.js';

const A = meterFrame('1299', 'V', 'DC', '/100');
const B = meterFrame('1300', 'V', 'DC', '/100');

function listen() {
  const frames: string[] = [];
  const torn: string[] = [];
  const reader = new FrameReader(14, {
    onFrame: (lowHalves, atMs) => void frames.push(`${Buffer.from(lowHalves).toString('hex')} ${atMs}`),
    onTorn: (why) => void torn.push(why),
  });
  return { reader, frames, torn };
}

function textOf(frame: Uint8Array, atMs: number): string {
  return `${Buffer.from(frame.map((byte) => byte & 0xf)).toString('hex')} ${atMs}`;
}

describe('FrameReader', () => {
  it('tells each frame with the time of its last byte', () => {
    const { reader, frames, torn } = listen();
    reader.push(A.subarray(0, 5), 10);
    reader.push(Buffer.concat([A.subarray(5), B]), 30);
    expect(frames).toEqual([textOf(A, 30), textOf(B, 30)]);
    expect(torn).toEqual([]);
  });

  it('begins at byte 1, wherever in a frame the link opens, and that is no fault', () => {
    for (let cut = 1; cut < 14; cut += 1) {
      const { reader, frames, torn } = listen();
      reader.push(Buffer.concat([A.subarray(cut), B]), 0);
      expect(frames).toEqual([textOf(B, 0)]);
      expect(torn).toEqual([]);
    }
  });

  it('drops a frame with a byte missing, doubled or out of order, once, and reads the next', () => {
    for (let at = 0; at < 14; at += 1) {
      const before = A.subarray(0, at);
      const byte = A.subarray(at, at + 1);
      const after = A.subarray(at + 1);
      for (const bytes of [Buffer.concat([before, after]), Buffer.concat([before, byte, byte, after])]) {
        const { reader, frames, torn } = listen();
        reader.push(Buffer.concat([B, bytes, B]), 0);
        const isHarmless = bytes.length > 14 && (at === 0 || at === 13);
        expect(frames).toEqual(
          isHarmless ? [textOf(B, 0), textOf(A, 0), textOf(B, 0)] : [textOf(B, 0), textOf(B, 0)],
        );
        expect(torn.length).toBeLessThanOrEqual(1);
      }
    }
  });

  it('never makes one frame of two halves with a frame lost between', () => {
    const { reader, frames, torn } = listen();
    reader.push(A.subarray(0, 7), 0);
    reader.push(B.subarray(7), 101);
    expect(frames).toEqual([]);
    expect(torn).toEqual(['a pause of more than 100 ms before byte 8 of a frame']);
    reader.push(B, 300);
    expect(frames).toEqual([textOf(B, 300)]);
  });

  it('says once that nothing makes a frame', () => {
    const { reader, torn } = listen();
    for (let time = 0; time < 100; time += 1) reader.push(Buffer.alloc(10_000, 'A'), time);
    expect(torn).toEqual([expect.stringMatching(/^bytes that make no frame/)]);
  });

  it('finds nothing in junk (seeds 1 to 20)', () => {
    for (let seed = 1; seed <= 20; seed += 1) {
      const { reader, frames } = listen();
      reader.push(randomBytes(seed, 20_000), 0);
      expect(frames).toEqual([]);
    }
  });

  it('tells the same frames however they are cut (seed 14)', () => {
    const stream = Buffer.concat([A.subarray(9), A, B, A, B.subarray(0, 6), A]);
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 20 }), { minLength: 1 }), (sizes) => {
        const { reader, frames, torn } = listen();
        for (let from = 0, turn = 0; from < stream.length; turn += 1) {
          const size = sizes[turn % sizes.length] ?? 1;
          reader.push(stream.subarray(from, from + size), 0);
          from += size;
        }
        expect(frames).toEqual([A, B, A, A].map((frame) => textOf(frame, 0)));
        expect(torn).toEqual(['byte 1 where byte 7 of a frame was due']);
      }),
      { seed: 14 },
    );
  });
});

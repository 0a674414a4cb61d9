import { describe, expect, it } from 'vitest';
import type { Capture } from '../../../drivers/driver.js';
import { SeenTraces } from '../../../drivers/scpi-scope/seen-traces.js';
import { randomBytes } from '../random-bytes.js';

function capture(samples: Uint8Array | Int16Array, channel = 'reservoir.volts'): Capture {
  const scaling = { scale: 0.1, offset: 0, startSeconds: 0, stepSeconds: 1e-3 };
  return {
    atMs: 0,
    channel,
    unit: 'V',
    samples,
    ...scaling,
    coupling: 'dc',
    attenuation: 10,
    acquisition: 1,
  };
}

describe('SeenTraces', () => {
  it('knows the trace before of each channel, in bytes and in words', () => {
    const seen = new SeenTraces();
    const bytes = randomBytes(1, 400);
    const words = new Int16Array(randomBytes(2, 800).buffer);
    expect(seen.isNew(capture(bytes))).toBe(true);
    expect(seen.isNew(capture(bytes, 'logic.volts'))).toBe(true);
    expect(seen.isNew(capture(bytes.slice()))).toBe(false);
    expect(seen.isNew(capture(words))).toBe(true);
    expect(seen.isNew(capture(words.slice()))).toBe(false);
    expect(seen.isNew(capture(bytes))).toBe(true);
  });

  it('tells two traces apart by a single step of one sample', () => {
    const seen = new SeenTraces();
    const first = randomBytes(3, 400);
    const second = first.slice();
    second[399] = (second[399] ?? 0) ^ 1;
    seen.isNew(capture(first));
    expect(seen.isNew(capture(second))).toBe(true);
  });

  it.each([
    ['few points', randomBytes(4, 199)],
    ['few levels', randomBytes(5, 400).map((byte) => byte % 7)],
  ])('says nothing against one of %s', (_, samples) => {
    const seen = new SeenTraces();
    seen.isNew(capture(samples));
    expect(seen.isNew(capture(samples))).toBe(true);
  });
});

import { describe, expect, it } from 'vitest';
import type { Capture } from '../../../drivers/driver.js';
import { samplesIn, scaleSamples, type SampleForm } from '../../../drivers/scpi-scope/samples.js';

describe('samplesIn', () => {
  const BYTES = [0x01, 0x80, 0xff, 0x7f];

  // Two's complement and byte orders as every textbook has them: 0x0180 is 384, 0xFF7F is -129 signed.
  it.each<[SampleForm, readonly number[]]>([
    [{ bits: 8, signed: false, byteOrder: 'big' }, [1, 128, 255, 127]],
    [{ bits: 8, signed: true, byteOrder: 'little' }, [1, -128, -1, 127]],
    [{ bits: 16, signed: false, byteOrder: 'big' }, [0x0180, 0xff7f]],
    [{ bits: 16, signed: true, byteOrder: 'big' }, [384, -129]],
    [{ bits: 16, signed: false, byteOrder: 'little' }, [0x8001, 0x7fff]],
    [{ bits: 16, signed: true, byteOrder: 'little' }, [-32767, 32767]],
  ])('reads %j', (form, values) => {
    expect(Array.from(samplesIn(Uint8Array.from(BYTES), form) ?? [])).toEqual(values);
  });

  it('is a view on the bytes that came', () => {
    const bytes = Uint8Array.from(BYTES);
    for (const byteOrder of ['big', 'little'] as const) {
      expect(samplesIn(bytes, { bits: 16, signed: true, byteOrder })?.buffer).toBe(bytes.buffer);
    }
  });

  it('refuses half a word', () => {
    expect(samplesIn(Uint8Array.of(1, 2, 3), { bits: 16, signed: true, byteOrder: 'big' })).toBeNull();
  });
});

describe('scaleSamples', () => {
  it('makes values of samples', () => {
    const capture: Capture = {
      atMs: 0,
      channel: 'reservoir.volts',
      unit: 'V',
      samples: Uint8Array.of(0, 128, 255),
      scale: 0.04,
      offset: -5.12,
      startSeconds: 0,
      stepSeconds: 1e-3,
      coupling: 'dc',
      attenuation: 1,
      acquisition: 1,
    };
    const values = new Float64Array(3);
    scaleSamples(capture, values);
    expect(values[0]).toBeCloseTo(-5.12, 12);
    expect(values[1]).toBeCloseTo(0, 12);
    expect(values[2]).toBeCloseTo(5.08, 12);
  });
});

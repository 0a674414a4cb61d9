import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { capturePicture } from '../../../../daemon/record/capture/picture.js';
import { packedSamples, sampleValues } from '../../../../daemon/record/capture/samples.js';
import type { CaptureEvent } from '../../../../daemon/watch/events.js';

function capture(counts: Parameters<typeof packedSamples>[0], scale = 1, offset = 0): CaptureEvent {
  return {
    kind: 'capture',
    atMs: 0,
    instrument: 'scope',
    channel: 'ch1',
    point: 'reservoir.ripple',
    unit: 'V',
    ...packedSamples(counts),
    scale,
    offset,
    startSeconds: 0,
    stepSeconds: 1e-4,
    coupling: 'dc',
  };
}

describe('the samples of a capture', () => {
  it.each([
    ['i8', 'b', Int8Array.of(-128, -1, 0, 127)],
    ['u8', 'B', Uint8Array.of(0, 1, 255)],
    ['i16', 'h', Int16Array.of(-32768, -100, 0, 300, 32767)],
    ['u16', 'H', Uint16Array.of(0, 258, 65535)],
  ] as const)('of %s are packed as Python packs "<%s", and read back', (kind, code, counts) => {
    const { counts: found, samples } = packedSamples(counts);
    const script = `import base64,struct,sys;print(base64.b64encode(struct.pack('<${counts.length}${code}',*map(int,sys.argv[1:]))).decode())`;
    const printed = execFileSync('python3', ['-c', script, ...Array.from(counts, String)], {
      encoding: 'utf8',
    });
    expect({ found, samples }).toEqual({ found: kind, samples: printed.trim() });
    expect([...sampleValues(capture(counts))]).toEqual([...counts]);
  });

  it('are none or too many: refused with what is allowed', () => {
    expect(() => packedSamples(new Int16Array(0))).toThrow(
      /samples: found 0; a recording takes 1 to \d+ bytes/,
    );
    expect(() => packedSamples(new Int16Array(2_000_000))).toThrow(/samples: found 2000000/);
  });
});

describe('the picture of a capture', () => {
  it('keeps a single peak among a hundred thousand samples, and the mean', () => {
    const counts = new Int16Array(100_000).fill(500);
    counts[77_777] = 1800;
    const picture = capturePicture(capture(counts, 0.01));
    expect(picture?.highs.length).toBe(500);
    expect(picture).toMatchObject({ low: 5, high: 18, samples: 100_000 });
    expect(picture?.highs.filter((value) => value === 18)).toHaveLength(1);
    // (99,999 x 5 V + 18 V) / 100,000
    expect(picture?.mean).toBeCloseTo(5.00013, 9);
  });
});

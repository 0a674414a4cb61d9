import { describe, expect, it } from 'vitest';
import {
  answerBytes,
  fits,
  framesIn,
  requestBytes,
  withoutEcho,
} from '../../../drivers/modbus-rtu/frames.js';
import { randomBytes } from '../random-bytes.js';

const bytes = (hex: string): Buffer => Buffer.from(hex.replaceAll(' ', ''), 'hex');

// Frames quoted in several open-source MODBUS test suites; the exception is the standard's with its CRC worked outside.
const QUESTION = { unit: 0x11, functionCode: 3, address: 0x6b, count: 3 };
const ASKED = bytes('11 03 00 6B 00 03 76 87');
const ANSWER = bytes('11 03 06 AE 41 56 52 43 40 49 AD');
const REFUSAL = bytes('01 83 02 C0 F1');

describe('requestBytes', () => {
  it.each([
    [QUESTION, ASKED],
    [{ unit: 0x11, functionCode: 4, address: 8, count: 1 }, bytes('11 04 00 08 00 01 B2 98')],
    [{ unit: 1, functionCode: 3, address: 0, count: 0x2c }, bytes('01 03 00 00 00 2C 44 17')],
  ])('writes %j', (question, expected) => {
    expect(Buffer.from(requestBytes(question))).toEqual(expected);
  });
});

describe('framesIn', () => {
  it('finds an answer with its data', () => {
    const [frame] = framesIn(ANSWER);
    expect(frame).toMatchObject({ unit: 17, functionCode: 3, exception: null, start: 0, end: 11 });
    expect(Buffer.from(frame?.data ?? [])).toEqual(bytes('AE 41 56 52 43 40'));
    expect(answerBytes(QUESTION)).toBe(ANSWER.length);
  });

  it('finds an exception', () => {
    expect(framesIn(REFUSAL)).toMatchObject([{ unit: 1, functionCode: 3, exception: 2 }]);
  });

  it('finds several with anything between', () => {
    const heard = Buffer.concat([bytes('00 FF 03'), ANSWER, bytes('11 03 06'), REFUSAL, bytes('00')]);
    expect(framesIn(heard).map(({ start }) => start)).toEqual([3, 17]);
  });

  it('finds nothing in an answer without its end, nor in one with a wrong byte', () => {
    for (let cut = 0; cut < ANSWER.length; cut += 1) {
      expect(framesIn(ANSWER.subarray(0, cut))).toEqual([]);
      const spoilt = Buffer.from(ANSWER);
      spoilt[cut] = (spoilt[cut] ?? 0) ^ 0x40;
      expect(framesIn(spoilt)).toEqual([]);
    }
  });

  it('bears junk (seeds 1 to 50)', () => {
    for (let seed = 1; seed <= 50; seed += 1) {
      expect(() => framesIn(randomBytes(seed, 256))).not.toThrow();
    }
  });
});

describe('fits', () => {
  it.each([
    ['another unit', { unit: 0x12 }],
    ['another function', { functionCode: 4 }],
    ['another amount', { count: 2 }],
  ])('does not take an answer from %s', (_, other) => {
    const [frame] = framesIn(ANSWER);
    expect(frame && fits(frame, QUESTION)).toBe(true);
    expect(frame && fits(frame, { ...QUESTION, ...other })).toBe(false);
  });
});

describe('withoutEcho', () => {
  it('leaves out our own question and nothing else', () => {
    expect(Buffer.from(withoutEcho(Buffer.concat([ASKED, ANSWER]), QUESTION))).toEqual(ANSWER);
    expect(Buffer.from(withoutEcho(ANSWER, QUESTION))).toEqual(ANSWER);
    expect(withoutEcho(ASKED.subarray(0, 7), QUESTION)).toHaveLength(7);
  });
});

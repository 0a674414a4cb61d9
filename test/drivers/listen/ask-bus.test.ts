import { describe, expect, it } from 'vitest';
import { askBus } from '../../../drivers/listen/ask-bus.js';
import { fakePlace } from './fake-ear.js';

const hex = (bytes: string): Buffer => Buffer.from(bytes.replaceAll(' ', ''), 'hex');

describe('askBus', () => {
  // Frames as several open-source MODBUS suites quote them, and answers with a CRC computed by hand.
  it('finds a unit that gives its first holding register, and asks only to read', async () => {
    // 01 03 02 00 0A 38 43: the answer 10 of MODBUS over Serial Line V1.02's CRC.
    const { asking, asked } = fakePlace((question) =>
      question[0] === 1 ? hex('01 03 02 00 0A 38 43') : null,
    );
    expect(await askBus(asking, 9600)).toEqual({ unit: 1, read: 'holding', hasRegister: true });
    // 01 03 00 00 00 01 84 0A is the usual first example of a read request.
    expect(asked).toEqual([hex('01 03 00 00 00 01 84 0A')]);
  });

  it('takes an exception for an answer too, and looks for an input register then', async () => {
    // 01 83 02 C0 F1: illegal data address.
    const { asking, asked } = fakePlace((question) => (question[0] === 1 ? hex('01 83 02 C0 F1') : null));
    expect(await askBus(asking, 9600)).toEqual({ unit: 1, read: 'holding', hasRegister: false });
    expect(asked.map((question) => question[1])).toEqual([3, 4]);
  });

  it('passes over its own echo', async () => {
    const { asking } = fakePlace((question) =>
      Buffer.concat([question, question[0] === 1 ? hex('01 03 02 00 0A 38 43') : hex('')]),
    );
    expect(await askBus(asking, 9600)).toMatchObject({ unit: 1 });
    const { asking: alone } = fakePlace((question) => question);
    expect(await askBus(alone, 9600)).toBeNull();
  });

  it.each([
    ['silence', () => null],
    ['a wrong CRC', () => hex('01 03 02 00 0A 38 44')],
    ['a unit that it was not asked for', () => hex('11 03 06 AE 41 56 52 43 40 49 AD')],
    ['an answer to something else', () => hex('01 03 06 02 2B 00 00 00 64 05 7A')],
    ['text', () => 'WHAT?\r\n'],
  ])('takes %s for nobody, and sends nothing but functions 3 and 4', async (_, answer) => {
    const { asking, asked } = fakePlace(answer);
    expect(await askBus(asking, 9600)).toBeNull();
    expect(asked.every((question) => question.length === 8 && [3, 4].includes(question[1] ?? 0))).toBe(true);
    expect(asked.map((question) => question[0])).not.toContain(0); // a broadcast
  });
});

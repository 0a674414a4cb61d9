import { describe, expect, it } from 'vitest';
import type { InstrumentEvent } from '../../../drivers/driver.js';
import { faultTeller } from '../../../drivers/fault-teller.js';
import type { HeardLine } from '../../../drivers/scpi/conversation.js';
import { ReplyReader, type BlockRules } from '../../../drivers/scpi-scope/reply-reader.js';
import { manualClock } from '../../manual-clock.js';
import { faultsOf } from '../events.js';
import { randomBytes } from '../random-bytes.js';

const RULES: BlockRules = { mostBytes: 4096, indefiniteBytes: () => null };

function reader(rules: BlockRules | null = RULES) {
  const lines: HeardLine[] = [];
  const events: InstrumentEvent[] = [];
  const made = new ReplyReader(
    (line) => lines.push(line),
    faultTeller(manualClock(), (event) => void events.push(event)),
  );
  made.allowBlocks(rules);
  const push = (...parts: (string | Uint8Array)[]): void =>
    made.push(Buffer.concat(parts.map((part) => Buffer.from(part as Uint8Array))), 7);
  return { made, lines, events, push };
}

/** 256 different bytes among them, the line feed and the hash too. */
const EVERY_BYTE = Uint8Array.from({ length: 1024 }, (_, i) => i & 0xff);

describe('a definite block', () => {
  // Examples of programming manuals of instruments for the arbitrary block of IEEE 488.2: #41024 with 1024 bytes,
  // #800000080 with 80, #208 with 8, #213 with 13 whose data begin at the fifth byte; #10 is empty (from memory).
  it.each([
    ['#41024', 1024],
    ['#800000080', 80],
    ['#208', 8],
    ['#213', 13],
    ['#10', 0],
  ])('with the header %s has %i bytes', (header, bytes) => {
    const { lines, push } = reader();
    push(header, EVERY_BYTE.subarray(0, bytes), '\n');
    expect(lines).toEqual([{ text: '#', atMs: 7, block: EVERY_BYTE.slice(0, bytes) }]);
  });

  it('is the same wherever it is cut', () => {
    const whole = Buffer.concat([
      Buffer.from(':DATA #220'),
      EVERY_BYTE.subarray(0, 20),
      Buffer.from(';next\r\n'),
    ]);
    for (let cut = 1; cut < whole.length; cut += 1) {
      const { lines, push } = reader();
      push(whole.subarray(0, cut));
      push(whole.subarray(cut));
      expect(lines, `cut after ${cut}`).toEqual([
        { text: ':DATA #;next\r', atMs: 7, block: EVERY_BYTE.slice(0, 20) },
      ]);
    }
  });

  it('lies in a buffer of its own from its first byte on, so that words in it are aligned', () => {
    const { lines, push } = reader();
    push('x #14', EVERY_BYTE.subarray(0, 4), '\n');
    expect(lines[0]?.block?.byteOffset).toBe(0);
    expect(lines[0]?.block?.buffer.byteLength).toBe(4);
  });

  it('has bytes behind it when it is longer than it says', () => {
    const { lines, push } = reader();
    push('#14', EVERY_BYTE.subarray(48, 53), '\n');
    expect(lines[0]?.text).toBe('#4');
  });

  it('is refused when it is too long, and the next line is read', () => {
    const { lines, events, push } = reader();
    push('#9999999999 junk\n12.06\n');
    expect(lines.map(({ text }) => text)).toEqual([null, '12.06']);
    expect(faultsOf(events)).toEqual([
      'line-too-long: a block of 999999999 bytes; at most 4096 are taken (most_points)',
    ]);
  });

  it.each(['#x12', '#2a3', '#1\n'])('is refused with the header %j', (header) => {
    const { lines, events, push } = reader();
    push(header, '\n12.06\n');
    expect(lines[0]?.text).toBeNull();
    expect(lines.at(-1)?.text).toBe('12.06');
    expect(faultsOf(events)[0]).toMatch(/not-understood: a block header with byte/);
  });

  it('is text where no block is wanted, in quotes and within a word', () => {
    const { lines, push } = reader(null);
    push('#14abcd\n');
    expect(lines[0]).toEqual({ text: '#14abcd', atMs: 7 });
    const wanted = reader();
    wanted.push('"scope #14abcd",no#14abcd\n');
    expect(wanted.lines[0]).toEqual({ text: '"scope #14abcd",no#14abcd', atMs: 7 });
  });
});

describe('an indefinite block', () => {
  // #0, the bytes, then NL with END (programming manual of an instrument): END doesn't come through a stream.
  it('is as long as is known beforehand', () => {
    const { lines, push } = reader({ mostBytes: 4096, indefiniteBytes: () => 300 });
    push('#0', EVERY_BYTE.subarray(0, 300), '\n12.06\n');
    expect(lines[0]).toEqual({ text: '#', atMs: 7, block: EVERY_BYTE.slice(0, 300) });
    expect(lines[1]?.text).toBe('12.06');
  });

  it('can have its length said by the text before it', () => {
    const { lines, push } = reader({
      mostBytes: 99,
      indefiniteBytes: (text) => Number(/\d+/.exec(text)?.[0]),
    });
    push('SIZE 3 (#0', 'a\nb', ')\n');
    expect(lines[0]).toMatchObject({ text: 'SIZE 3 (#)', block: Uint8Array.from([97, 10, 98]) });
  });

  it('is refused where nothing tells its length', () => {
    const { lines, events, push } = reader();
    push('#0abc\n12.06\n');
    expect(lines.map(({ text }) => text)).toEqual([null, '12.06']);
    expect(faultsOf(events)[0]).toMatch(/whose length nothing tells/);
  });
});

describe('text', () => {
  it('is dropped with a NUL, with bytes that are not UTF-8 and when it does not end', () => {
    const { lines, events, push } = reader();
    push('1\x002\n', Uint8Array.of(0x31, 0xff, 0x0a), 'A'.repeat(5000), '\n12.06\n');
    expect(lines.map(({ text }) => text)).toEqual([null, null, null, '12.06']);
    expect(faultsOf(events).map((fault) => fault.split(':')[0])).toEqual(['not-text', 'line-too-long']);
  });

  it('holds at most its text and one block, whatever comes (seed 77)', () => {
    const { made, lines, push } = reader();
    for (let round = 0; round < 50; round += 1) push(randomBytes(77 + round, 20_000));
    expect(
      lines.every(({ text, block }) => (text ?? '').length <= 4096 && (block?.length ?? 0) <= 4096),
    ).toBe(true);
    made.end();
    const before = lines.length;
    push('late\n');
    expect(lines).toHaveLength(before);
  });
});

import { describe, expect, it } from 'vitest';
import { errorQueue, eventBitOf } from '../../../drivers/simulated/scpi-errors.js';

describe('the error queue', () => {
  it('gives the oldest first, then no error (SCPI-1999 volume 2, 21.8)', () => {
    const queue = errorQueue();
    queue.push(-113);
    queue.push(-222);
    expect([queue.next(), queue.next(), queue.next()]).toEqual([
      '-113,"Undefined header"',
      '-222,"Data out of range"',
      '0,"No error"',
    ]);
  });

  it('holds twenty; the newest is replaced by an overflow, the oldest are kept', () => {
    const queue = errorQueue();
    for (let count = 0; count < 25; count += 1) queue.push(-113);
    const answers = Array.from({ length: 21 }, () => queue.next());
    expect(answers.slice(0, 19)).toEqual(Array.from({ length: 19 }, () => '-113,"Undefined header"'));
    expect(answers.slice(19)).toEqual(['-350,"Queue overflow"', '0,"No error"']);
  });

  it('sets the bits of IEEE 488.2, 11.5.1: command, execution and device errors', () => {
    expect([eventBitOf(-113), eventBitOf(-222), eventBitOf(-350)]).toEqual([32, 16, 8]);
  });
});

import { describe, expect, it } from 'vitest';
import { eventErrorsIn } from '../../../drivers/scpi/event-errors.js';

const numbersIn = (answer: string) => eventErrorsIn(answer)?.map(({ number }) => number) ?? null;

// IEEE 488.2, 11.5.1.1: 1 operation complete, 2 request control, 4 query, 8 device-dependent, 16 execution and 32
// command error, 64 user request, 128 power on; classes of SCPI-1999 volume 2, 21.8.9 to 21.8.12.
describe('the errors in an event status', () => {
  it.each([
    ['0', []],
    ['+195', []],
    ['32', [-100]],
    ['16', [-200]],
    [' 8 \r', [-300]],
    ['4', [-400]],
    ['+255', [-100, -200, -300, -400]],
  ])('of %j are %j', (answer, numbers) => {
    expect(numbersIn(answer)).toEqual(numbers);
  });

  it.each(['', '256', '-1', '0.5', '#H20', '0,"No error"', 'OFF'])('are not told by %j', (answer) => {
    expect(eventErrorsIn(answer)).toBeNull();
  });
});

import { expect, it } from 'vitest';
import { verdictWords } from '../../../daemon/watch/verdict-words.js';

const volts = { unit: 'V', low: 4.9, high: 5.1 } as const;

it('says of a doubtful value how near the edge it lies, on which side, and how probably inside', () => {
  expect(verdictWords({ ...volts, verdict: 'doubtful', value: 5.09, probability: 0.767 })).toBe(
    'doubtful: 5.09 V lies 10 mV inside the edge, inside with 77 %',
  );
  expect(verdictWords({ ...volts, verdict: 'doubtful', value: 4.88, probability: 0.003 })).toBe(
    'doubtful: 4.88 V lies 20 mV beyond the edge, inside with 1 %',
  );
});

it('says no more than the word of the others', () => {
  expect(verdictWords({ ...volts, verdict: 'inside', value: 5, probability: 1 })).toBe('inside');
  expect(verdictWords({ ...volts, verdict: 'outside', value: 6, probability: 0 })).toBe('outside');
});

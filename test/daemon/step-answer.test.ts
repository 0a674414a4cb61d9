import { describe, expect, it } from 'vitest';
import type { Check } from '../../daemon/procedure/step.js';
import { readAnswer } from '../../daemon/step-answer.js';

const check = (number: Check['number'], waiver: string | null = null): Check => ({
  id: 'earth',
  ask: 'Is it tight? Shake it.',
  caution: null,
  number,
  waiver,
  vital: false,
  reason: '',
  whenWrong: '',
});
const OHMS = check({ unit: 'ohm', low: null, high: 0.3 }, 'class II');
const QUESTION = check(null);

describe('an answer as a person types it', () => {
  it.each([
    ['0.12', OHMS, 0.12],
    ['0,12 ohm', OHMS, 0.12],
    ['5M', OHMS, 5e6],
    ['4.7k', OHMS, 4700],
    ['OL', OHMS, 'open'],
    ['-', OHMS, 'waived'],
    ['315m', check({ unit: 'A', low: 0.1, high: 0.4 }), 0.315],
    ['16.8 V', check({ unit: 'Vrms', low: 10, high: 20 }), 16.8],
    ['-15.02', check({ unit: 'V', low: -16, high: -14 }), -15.02],
    ['60 W', check({ unit: 'W', low: 40, high: 80 }), 60],
    ['Yes', QUESTION, 'yes'],
    ['n', QUESTION, 'no'],
  ] as const)('%j is taken', (text, asked, answer) => {
    expect(readAnswer(text, asked)).toEqual({ answer, why: null });
  });

  it.each([
    ['twelve', OHMS, /no reading in ohm/],
    ['5 V', OHMS, /no reading in ohm/],
    ['maybe', QUESTION, /"maybe" is no answer to "Is it tight\?" Type yes or no/],
    ['-', QUESTION, /"-" is no answer/],
  ] as const)('%j is refused with what is wanted', (text, asked, why) => {
    expect(readAnswer(text, asked).why).toMatch(why);
  });
});

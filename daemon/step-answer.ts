import type { Check } from './procedure/step.js';
import type { StepAnswer } from './watch/events.js';
import { questionOf, wantedOf } from './watch/procedure/words.js';
import type { Measurand } from '../drivers/driver.js';
import { readTyped } from '../drivers/by-hand/typed-value.js';

/** What a person typed to a check, or why it is none. */
export type ReadAnswer =
  { readonly answer: StepAnswer; readonly why: null } | { readonly answer: null; readonly why: string };

type CheckUnit = NonNullable<Check['number']>['unit'];

const MEASURAND: Readonly<Record<Exclude<CheckUnit, 'W'>, Measurand>> = {
  ohm: 'ohms',
  A: 'dc-amps',
  V: 'dc-volts',
  Vrms: 'ac-volts',
};

const WORDS: Readonly<Record<string, StepAnswer>> = { y: 'yes', yes: 'yes', n: 'no', no: 'no' };

/** Reads `0.12`, `5M`, `OL`, `yes`, or `-` where there is nothing to check. */
export function readAnswer(text: string, check: Check): ReadAnswer {
  const typed = text.trim();
  if (typed === '-') return check.waiver === null ? refusal(typed, check) : { answer: 'waived', why: null };
  if (check.number === null) {
    const answer = WORDS[typed.toLowerCase()];
    return answer === undefined ? refusal(typed, check) : { answer, why: null };
  }
  const { unit } = check.number;
  const read =
    unit === 'W'
      ? readTyped(typed.replace(/W$/i, '').trimEnd(), 'dc-volts')
      : readTyped(typed, MEASURAND[unit]);
  if (read.why !== null) return { answer: null, why: read.why };
  if (read.mark === 'overload') return { answer: 'open', why: null };
  return read.mark === null ? { answer: read.value, why: null } : refusal(typed, check);
}

function refusal(typed: string, check: Check): ReadAnswer {
  const choice = check.number === null ? 'Type yes or no' : 'Type a number';
  return {
    answer: null,
    why: `"${typed}" is no answer to "${questionOf(check)}" ${choice}, wanted is ${wantedOf(check)}`,
  };
}

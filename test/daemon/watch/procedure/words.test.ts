import { expect, it } from 'vitest';
import { failureWords, refusalWords } from '../../../../daemon/watch/procedure/words.js';
import { PROCEDURE, Walk, WALK_PLAN } from './walk.js';

const [step] = PROCEDURE.steps;
const [check] = step!.checks;
const facts = { procedure: PROCEDURE, alarms: [], prediction: WALK_PLAN.prediction };

it.each([
  [
    'Ohms from the earth pin to each metal part? Type the highest',
    'Ohms from the earth pin to each metal part? 0.90 Ω, wanted 0.30 Ω or less (or -: class II). Renew the wire.',
  ],
  ['Say the ohms', 'Say the ohms 0.90 Ω, wanted 0.30 Ω or less (or -: class II). Renew the wire.'],
])('a failed check that asks “%s” is told in these words, never by its id', (ask, words) => {
  const asked = { ...step!, checks: [{ ...check!, ask, whenWrong: 'Renew the wire.' }] };
  const state = {
    ...new Walk().step(step!.id),
    answers: { [check!.id]: { answer: 0.9, inside: false, atMs: 0 } },
  };
  const failure = { kind: 'check', check: check!.id } as const;
  expect(failureWords(failure, asked, state, facts)).toBe(words);
});

it('what was not read yet is told by its label: nobody says “logic dot volts”', () => {
  const rails = PROCEDURE.steps.find(({ id }) => id === 'rails')!;
  const [read] = rails.points;
  const named = { ...rails, points: [{ ...read!, point: 'logic.volts', label: 'logic rail, mean' }] };
  const missing = ['logic.volts', 'ambient.air'];
  expect(
    refusalWords(
      { kind: 'not-done', step: 'rails', missing },
      { ...facts, procedure: { ...PROCEDURE, steps: [named] } },
    ),
  ).toBe(
    `"${rails.title}" is not done (not read: logic rail, ambient.air). Finish it, or override it with a reason.`,
  );
});

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

it('a test point is told by its label: nobody says “logic dot volts”', () => {
  const { prediction } = WALK_PLAN;
  const point = prediction.points['logic.volts']!;
  const named = { ...prediction, points: { 'logic.volts': { ...point, label: 'logic rail, mean' } } };
  const told = { ...facts, prediction: named };
  const rails = PROCEDURE.steps.find(({ id }) => id === 'rails')!;
  const missing = ['logic.volts', 'ambient.air'];
  expect(refusalWords({ kind: 'not-done', step: 'rails', missing }, told)).toBe(
    `"${rails.title}" is not done (not read: logic rail, ambient.air). Finish it, or override it with a reason.`,
  );
  const captured = { 'logic.volts': { value: 5.35, verdict: 'outside', atMs: 0 } } as const;
  const state = { ...new Walk().step('rails'), captured };
  expect(failureWords({ kind: 'point', point: 'logic.volts' }, rails, state, told)).toBe(
    'Logic rail, mean: 5.35 V where 4.80 to 5.20 V is expected.',
  );
});

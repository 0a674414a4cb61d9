import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { StepAction, StepEvent, WatchEvent } from '../../../../daemon/watch/events.js';
import { opensTheWay } from '../../../../daemon/watch/procedure/procedure-state.js';
import { deepFreeze, reading } from '../cabin.js';
import { PROCEDURE, upToRails, Walk, WELL } from './walk.js';

const begin = { action: 'begin' } as const;
const override = (reason: string) => ({ action: 'override', reason }) as const;
const answer = (check: string, given: Extract<StepAction, { action: 'answer' }>['answer']) =>
  ({ action: 'answer', check, answer: given }) as const;

describe('going through the power-up', () => {
  it('marks a step as done when the next one begins', () => {
    const walk = upToRails().act('soak', begin);
    expect(walk.step('rails').status).toBe('done');
    expect(walk.current).toBe('soak');
    expect(walk.changes().slice(-2)).toEqual(['rails done', 'soak began']);
  });

  it('goes back to do a step anew, and forgets what was behind it', () => {
    const walk = upToRails().act('soak', begin).act('soak', { action: 'back' });
    expect(walk.current).toBe('rails');
    expect(walk.step('rails')).toMatchObject({ status: 'running', captured: {} });
    expect(walk.step('soak').status).toBe('waiting');
  });

  it('keeps the reason of an override, and opens the way', () => {
    const walk = upToRails().act('soak', begin).act('soak', override('soaked for an hour yesterday'));
    expect(walk.step('soak')).toMatchObject({
      status: 'overridden',
      reason: 'soaked for an hour yesterday',
    });
    expect(walk.why('real-load-logic', begin)).toBeNull();
  });

  it('ends with a name', () => {
    const walk = upToRails()
      .act('soak', begin)
      .act('soak', override('none today'))
      .act('real-load-logic', begin)
      .off()
      .stand(5000, WELL)
      .act('sign-off', begin)
      .act('sign-off', { action: 'sign', name: 'Ada' });
    expect(walk.state.procedure).toMatchObject({ ended: 'signed', signedBy: 'Ada' });
    expect(walk.why('rails', begin)).toEqual({ kind: 'ended', how: 'signed' });
  });

  it('ends when it is broken off', () => {
    const walk = upToRails().act('rails', { action: 'abort', reason: 'smoke' });
    expect(walk.step('rails')).toMatchObject({ status: 'aborted', reason: 'smoke' });
    expect(walk.why('soak', begin)).toEqual({ kind: 'ended', how: 'aborted' });
    expect(walk.changes().at(-1)).toBe('rails aborted');
  });

  it('takes a check that there is nothing to check for', () => {
    const walk = new Walk().act('cold-checks', begin).act('cold-checks', answer('earth', 'waived'));
    expect(walk.step('cold-checks').answers['earth']).toMatchObject({ inside: true });
  });

  it.each([
    ['earth', 0.3, true],
    ['earth', 0.31, false],
    ['earth', 'open', false],
    ['short', 18, true],
    ['short', 17.9, false],
    ['short', 'open', true],
    ['polarity', 'no', false],
  ] as const)('judges %s answered with %s: %s', (check, given, inside) => {
    const walk = new Walk().act('cold-checks', begin).act('cold-checks', answer(check, given));
    expect(walk.step('cold-checks').answers[check]?.inside).toBe(inside);
  });
});

describe('what the power-up refuses', () => {
  const started = () => new Walk().off().act('cold-checks', begin);
  const refusals: readonly (readonly [string, () => Walk, string, StepAction, object])[] = [
    [
      'an answer before it began',
      () => new Walk(),
      'cold-checks',
      answer('earth', 0.1),
      { kind: 'not-begun' },
    ],
    ['a step that isn’t there', started, 'paint', begin, { kind: 'unknown-step' }],
    ['a step too far', started, 'soak', begin, { kind: 'not-next', next: 'rails' }],
    ['a step again', started, 'cold-checks', begin, { kind: 'not-next' }],
    [
      'the next step with checks open',
      started,
      'rails',
      begin,
      { kind: 'not-done', missing: ['earth', 'short', 'polarity'] },
    ],
    ['an answer for another step', started, 'rails', answer('earth', 1), { kind: 'not-current' }],
    ['a check that isn’t there', started, 'cold-checks', answer('smell', 'yes'), { kind: 'unknown-check' }],
    ['yes to ohms', started, 'cold-checks', answer('earth', 'yes'), { kind: 'wrong-answer' }],
    ['ohms to yes or no', started, 'cold-checks', answer('polarity', 5), { kind: 'wrong-answer' }],
    ['no number at all', started, 'cold-checks', answer('earth', NaN), { kind: 'wrong-answer' }],
    ['waiving what must be', started, 'cold-checks', answer('short', 'waived'), { kind: 'wrong-answer' }],
    ['an override without a reason', started, 'cold-checks', override('  '), { kind: 'short-reason' }],
    ['two letters as a reason', started, 'cold-checks', override('ok 123'), { kind: 'short-reason' }],
    ['going back from the first step', started, 'cold-checks', { action: 'back' }, { kind: 'first-step' }],
    [
      'a signature in between',
      started,
      'cold-checks',
      { action: 'sign', name: 'Ada' },
      { kind: 'not-sign-off' },
    ],
    [
      'overriding a check that can kill',
      () => started().act('cold-checks', answer('earth', 12)),
      'cold-checks',
      override('the fuse will go'),
      { kind: 'vital', check: 'earth' },
    ],
    [
      'an answer after an override',
      () => started().act('cold-checks', override('all done yesterday')),
      'cold-checks',
      answer('earth', 0.1),
      { kind: 'overridden' },
    ],
    [
      'going on while something is being destroyed',
      () => upToRails().stand(2000, { ...WELL, logic: 9 }),
      'rails',
      override('it will do'),
      { kind: 'alarm', alarm: 'over-limit:logic.volts' },
    ],
  ];

  it.each(refusals)('%s', (_title, make, step, action, why) => {
    const walk = make();
    const before = walk.state.procedure;
    expect(walk.why(step, action)).toMatchObject(why);
    // The core does nothing that it refuses, whoever sent it.
    walk.feed({ kind: 'step', atMs: walk.state.nowMs, step, ...action });
    expect(walk.state.procedure).toEqual(before);
  });

  it('an alarm that came after an override, too', () => {
    const walk = upToRails().act('soak', begin).act('soak', override('none today'));
    walk.stand(4000, { ...WELL, logic: 9 });
    expect(walk.why('real-load-logic', begin)).toMatchObject({ kind: 'alarm' });
  });
});

const SEED = 20_261_127;
const ids = PROCEDURE.steps.map(({ id }) => id);
const anyStep: fc.Arbitrary<StepAction & { step: string }> = fc
  .tuple(
    fc.constantFrom(...ids),
    fc.oneof(
      { weight: 4, arbitrary: fc.constant<StepAction>({ action: 'begin' }) },
      fc.constantFrom<StepAction[]>(
        answer('earth', 0.1),
        answer('earth', 5),
        answer('short', 'open'),
        answer('polarity', 'yes'),
        answer('polarity', 'no'),
        override('a good reason'),
        override('no'),
        { action: 'back' },
        { action: 'sign', name: 'Ada' },
      ),
    ),
  )
  .map(([step, action]) => ({ step, ...action }));
const anyReading = fc.record({
  raw: fc.constantFrom(0, 22, 30),
  logic: fc.constantFrom(0, 5, 5.3, 9),
  warm: fc.constantFrom(22, 55, 120),
});

describe('no sequence of events', () => {
  it(`reaches a step without all before it done or overridden (seed ${SEED})`, () => {
    fc.assert(
      fc.property(fc.array(fc.oneof(anyStep, anyReading), { maxLength: 60 }), (sequence) => {
        const walk = new Walk();
        let furthest = 0;
        for (const one of sequence) {
          if ('step' in one) walk.act(one.step, one);
          else walk.stand(4000, one);
          const procedure = walk.state.procedure;
          const before = procedure?.steps.slice(0, Math.max(0, procedure.at)) ?? [];
          expect(before.every(opensTheWay)).toBe(true);
          furthest = Math.max(furthest, procedure?.at ?? 0);
        }
        return furthest >= 0;
      }),
      { seed: SEED, numRuns: 300 },
    );
  });

  it(`changes the state that it came with, and the same events give the same effects (seed ${SEED})`, () => {
    fc.assert(
      fc.property(fc.array(anyStep, { maxLength: 30 }), (sequence) => {
        const events = sequence.map(
          (one, at): WatchEvent => ({ kind: 'step', atMs: at * 1000, ...one }) satisfies StepEvent,
        );
        const run = () => {
          const walk = new Walk();
          deepFreeze(walk.state);
          return walk.feed(...events, reading(90_000, 'meter volts', 5)).effects;
        };
        expect(run()).toEqual(run());
      }),
      { seed: SEED, numRuns: 100 },
    );
  });
});

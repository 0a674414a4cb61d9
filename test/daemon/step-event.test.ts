import { describe, expect, it } from 'vitest';
import { stepWanted } from '../../daemon/step-event.js';
import { upToRails, Walk } from './watch/procedure/walk.js';

const started = () => new Walk().off().act('cold-checks', { action: 'begin' }).state;

describe('what a person wants of the power-up', () => {
  it('becomes an event with the answer read', () => {
    const message = {
      kind: 'step',
      step: 'cold-checks',
      action: 'answer',
      check: 'earth',
      text: '0.2',
    } as const;
    expect(stepWanted(message, started()).event).toMatchObject({ action: 'answer', answer: 0.2 });
  });

  it.each([
    [{ step: 'rails', action: 'begin' }, /"cold-checks" is not done \(3 checks are not answered\)/],
    [{ step: 'soak', action: 'begin' }, /not the next step; that is "rails"/],
    [{ step: 'cold-checks', action: 'answer', check: 'earth', text: 'low' }, /no reading in ohm/],
    [{ step: 'cold-checks', action: 'answer', check: 'smell', text: 'no' }, /has no check smell/],
    [{ step: 'cold-checks', action: 'override', reason: '' }, /wants its reason in words/],
    [{ step: 'cold-checks', action: 'sign', name: 'Ada' }, /is not the sign-off/],
    [{ step: 'cold-checks', action: 'back' }, /no step before the first/],
  ] as const)('is refused in words: %j', (wish, why) => {
    expect(stepWanted({ kind: 'step', ...wish }, started()).why).toMatch(why);
  });

  it('names the alarm that stands in the way', () => {
    const { state } = upToRails().stand(2000, { raw: 22, logic: 9, warm: 24 });
    const why = stepWanted({ kind: 'step', step: 'soak', action: 'begin' }, state).why;
    expect(why).toMatch(/is not done/);
    const override = { kind: 'step', step: 'rails', action: 'override', reason: 'go on' } as const;
    expect(stepWanted(override, state).why).toMatch(/Not while this alarm stands: Logic rail: 9\.00 V, over/);
  });
});

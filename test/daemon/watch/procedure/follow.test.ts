import { describe, expect, it } from 'vitest';
import { reading } from '../cabin.js';
import { PROCEDURE, upToRails, Walk, WALK_PLAN, WELL } from './walk.js';

const begin = { action: 'begin' } as const;

describe('a step of the power-up', () => {
  it('is ready once all checks are inside', () => {
    const walk = new Walk().off().act('cold-checks', begin);
    expect(walk.step('cold-checks').status).toBe('running');
    walk.answerAll();
    expect(walk.changes()).toEqual(['cold-checks began', 'cold-checks ready']);
  });

  it('keeps values by itself once they stand still, and is ready when all are inside', () => {
    const walk = upToRails();
    expect(walk.step('rails')).toMatchObject({
      status: 'ready',
      captured: {
        'reservoir.volts': { value: 22, verdict: 'inside' },
        'logic.volts': { value: 5, verdict: 'inside' },
      },
    });
    const ready = walk.stepEffects().find(({ change, step }) => change === 'ready' && step === 'rails');
    expect(Object.keys(ready?.captured ?? {})).toEqual(['reservoir.volts', 'logic.volts']);
  });

  it('keeps nothing while the supply is off, and does not fail for it', () => {
    const walk = new Walk().off().act('cold-checks', begin).answerAll().act('rails', begin).off(60_000);
    expect(walk.step('rails')).toMatchObject({ status: 'running', captured: {}, failures: [] });
  });

  it('does not take for its own what still reads as in the step before', () => {
    const walk = upToRails().act('soak', begin);
    walk.act('soak', { action: 'override', reason: 'soaked yesterday' }).act('real-load-logic', begin);
    walk.stand(10_000, WELL);
    expect(walk.step('real-load-logic').captured).toEqual({});
    walk.off().stand(5000, WELL);
    expect(walk.step('real-load-logic').status).toBe('ready');
  });

  it('fails with the point that is outside, and is ready again when that is mended', () => {
    const walk = new Walk().off().act('cold-checks', begin).answerAll().act('rails', begin);
    walk.stand(6000, { ...WELL, logic: 5.35 });
    expect(walk.step('rails')).toMatchObject({
      status: 'failed',
      failures: [{ kind: 'point', point: 'logic.volts' }],
    });
    expect(walk.why('soak', begin)).toMatchObject({ kind: 'not-done', step: 'rails' });
    walk.off().stand(6000, WELL);
    expect(walk.step('rails').status).toBe('ready');
    expect(walk.changes().slice(-3)).toEqual(['rails began', 'rails failed', 'rails ready']);
  });

  it('fails at the first reading beyond a limit, however it moves', () => {
    const walk = new Walk().off().act('cold-checks', begin).answerAll().act('rails', begin);
    walk.feed(reading(walk.state.nowMs + 500, 'meter volts', 17));
    expect(walk.step('rails').status).toBe('failed');
  });

  it('does not count a doubtful value as inside', () => {
    const walk = new Walk().off().act('cold-checks', begin).answerAll().act('rails', begin);
    // The meter is good for 0.5 % and 2 counts of 1 mV: 28 mV.
    walk.stand(6000, { ...WELL, logic: 5.19 });
    expect(walk.step('rails')).toMatchObject({
      status: 'running',
      captured: { 'logic.volts': { verdict: 'doubtful' } },
    });
  });

  it('soaks until the temperature has settled inside its band', () => {
    const walk = upToRails().act('soak', begin);
    for (let seconds = 1; seconds <= 2400; seconds += 1) {
      // A first-order warm-up of ten minutes to 55 degrees (textbook).
      walk.stand(500, { ...WELL, warm: 55 - 31 * Math.exp(-seconds / 1200) });
      if (seconds === 1200) expect(walk.step('soak').status).toBe('running');
    }
    walk.stand(1_800_000, { ...WELL, warm: 55 });
    expect(walk.step('soak')).toMatchObject({ status: 'ready' });
    expect(walk.step('soak').captured['logic.case']?.value).toBeGreaterThan(52);
  });

  it('fails at the soak where a case that never warms settles too cold', () => {
    const walk = upToRails()
      .act('soak', begin)
      .stand(400_000, { ...WELL, warm: 24 });
    expect(walk.step('soak').failures).toEqual([{ kind: 'point', point: 'logic.case' }]);
  });

  it('fails while an alarm stands that destroys something, whatever was measured', () => {
    const walk = upToRails()
      .act('soak', begin)
      .stand(8000, { ...WELL, warm: 99 });
    expect(walk.step('soak').failures).toContainEqual({ kind: 'alarm', alarm: 'over-limit:logic.case' });
    expect(walk.why('soak', { action: 'override', reason: 'it always runs hot' })).toEqual({
      kind: 'alarm',
      alarm: 'over-limit:logic.case',
    });
  });

  it('takes what a person types at once', () => {
    const typed = {
      ...WALK_PLAN,
      channels: WALK_PLAN.channels.map((one) => ({ ...one, typed: true as const })),
    };
    const walk = new Walk(typed).act('cold-checks', begin).answerAll().act('rails', begin);
    walk.feed(reading(1000, 'board raw', 22), reading(2000, 'meter volts', 5.01));
    expect(walk.step('rails').status).toBe('ready');
  });

  it('leaves the session alone that has no power-up', () => {
    const { prediction, channels } = WALK_PLAN;
    const walk = new Walk({ prediction, channels }).stand(5000, WELL);
    expect(walk.state.procedure).toBeNull();
    expect(walk.stepEffects()).toEqual([]);
  });

  it('brings its bands with it, and gives them back at the end', () => {
    const walk = upToRails();
    expect(walk.state.expecting).toMatchObject({ step: 'rails', load: 'idle' });
    walk.act('rails', { action: 'abort', reason: '' });
    expect(walk.state.expecting).toMatchObject({ step: null, load: 'typical', bands: {} });
    expect(PROCEDURE.steps[1]?.bands['logic.volts']).toEqual({ low: 4.8, typical: 5, high: 5.2 });
  });
});

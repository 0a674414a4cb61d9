import { describe, expect, it } from 'vitest';
import { operatorEvent } from '../../daemon/operator-events.js';
import { poweredCabin, reading, SUPPLIED } from './watch/cabin.js';
import { Walk } from './watch/procedure/walk.js';

const { state } = poweredCabin(SUPPLIED);

describe('what a person does becomes an event', () => {
  it('with the time', () => {
    const told = operatorEvent({ kind: 'acknowledge', alarm: 'not-recording' }, state, 1234);
    expect(told).toEqual({ event: { kind: 'acknowledge', atMs: 1234, alarm: 'not-recording' }, why: null });
  });

  it('minutes aside as the time until which', () => {
    const shelved = (minutes: number | null) =>
      operatorEvent({ kind: 'shelve', alarm: 'a', minutes }, state, 1000).event;
    expect(shelved(1.5)).toEqual({ kind: 'shelve', atMs: 1000, alarm: 'a', untilMs: 91_000 });
    expect(shelved(null)).toMatchObject({ untilMs: null });
  });

  it('an order for the cut-off even where it is refused, with why', () => {
    const watched = poweredCabin(SUPPLIED).feed(reading(600, 'meter volts', 18));
    const order = { kind: 'cut-off', output: 'mains-relay', order: 'arm', inSight: true } as const;
    const told = operatorEvent(order, watched.state, 700);
    expect(told.event).toEqual({ ...order, atMs: 700 });
    expect(told.why).toMatch(/passing-input:logic\.volts stands/);
  });

  it('a step of the power-up only where it can be done', () => {
    const walk = new Walk();
    const begin = (step: string) => operatorEvent({ kind: 'step', step, action: 'begin' }, walk.state, 900);
    expect(begin('cold-checks')).toEqual({
      event: { kind: 'step', atMs: 900, step: 'cold-checks', action: 'begin' },
      why: null,
    });
    expect(begin('soak').event).toBeNull();
    expect(begin('soak').why).toMatch(/not the next step/);
  });

  it('without what a terminal would obey, in its words', () => {
    const note = { kind: 'note', text: 'lamps\u001b]0;all well\u0007 dim\nby half' } as const;
    expect(operatorEvent(note, state, 5).event).toMatchObject({ text: 'lamps·]0;all well· dim\nby half' });
    const walk = new Walk();
    walk.act('cold-checks', { action: 'begin' });
    const reason = 'measured yesterday \u001b[2J\u202e';
    const abort = { kind: 'step', step: 'cold-checks', action: 'abort', reason } as const;
    expect(operatorEvent(abort, walk.state, 900).event).toMatchObject({
      reason: 'measured yesterday ·[2J·',
    });
  });
});

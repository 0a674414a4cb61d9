import { describe, expect, it } from 'vitest';
import type { ChangesMessage, DaemonMessage } from '../../daemon/serve/messages.js';
import { INITIAL_STATE, reduce, type PageState } from '../../web/session-state.js';
import { walkAt } from './cabin-walk.js';
import { calm, HOT_CASE, INSTRUMENTS } from './signal-cabin.js';

function after(state: PageState, message: DaemonMessage, wallMs = 0): PageState {
  return reduce(state, { kind: 'message', wallMs, message });
}

function changes(seq: number, more: Partial<ChangesMessage> = {}): ChangesMessage {
  return { kind: 'changes', seq, nowMs: 755_000, readings: [], leftOut: 0, ...more };
}

const joined = after(INITIAL_STATE, calm());
const logicOf = (state: PageState) => state.points.find((point) => point.id === 'logic.volts');

describe('a snapshot', () => {
  it('makes the page live and is taken over whole', () => {
    expect(joined.link).toEqual({ kind: 'live' });
    expect(joined.points).toHaveLength(12);
    expect(joined.channels).toEqual([
      'meter volts',
      'rails lamps',
      'probes t1',
      'rails logic',
      'probes t2',
      'probes t3',
    ]);
  });

  it('of the same session keeps a channel whose probe has been taken off', () => {
    const off = { id: 'ambient.air', measuredBy: null, value: null, mark: null, atMs: null };
    const without = calm().points.map((point) =>
      point.id === 'ambient.air' ? { ...point, ...off, verdict: null, stale: false } : point,
    );
    expect(after(joined, { ...calm(), points: without }).channels).toContain('probes t3');
  });
});

describe('changes', () => {
  it('bring the power-up as it stands now, and leave it where they say nothing of it', () => {
    const walking = after(joined, changes(2, { procedure: walkAt('raw') }));
    expect(walking.procedure?.current).toBe('raw');
    expect(after(walking, changes(3)).procedure).toBe(walking.procedure);
    expect(after(walking, calm()).procedure).toBeNull();
  });

  it('bring the newest reading of a point and end its staleness', () => {
    const stale = after(joined, changes(2, { points: [{ ...standing(), stale: true }] }));
    const fresh = after(
      stale,
      changes(3, {
        readings: [
          ['logic.volts', 755_000, 4.99],
          ['logic.volts', 755_500, 4.98],
        ],
      }),
    );
    expect(logicOf(fresh)).toMatchObject({ value: 4.98, atMs: 755_500, stale: false, verdict: 'inside' });
  });

  it('give a reading without a number a mark, never the old number', () => {
    const state = after(joined, changes(2, { readings: [['logic.volts', 755_000, null]] }));
    expect(logicOf(state)).toMatchObject({ value: null, mark: 'not-a-number' });
  });

  it('bring other bands and the load for which they stand', () => {
    const bands = [{ id: 'logic.volts', low: 4.95, typical: 5, high: 5.05 }];
    const state = after(joined, changes(2, { expected: { load: 'idle', bands } }));
    expect(logicOf(state)).toMatchObject({ low: 4.95, high: 5.05, value: 5.02 });
    expect(state.session?.load).toBe('idle');
    expect(state.points.find(({ id }) => id === 'lamps.volts')?.high).toBe(12.46);
  });

  it('let a standing win over a reading of the same message', () => {
    const state = after(
      joined,
      changes(2, {
        readings: [['logic.volts', 755_000, null]],
        points: [{ ...standing(), value: null, mark: 'overload' }],
      }),
    );
    expect(logicOf(state)?.mark).toBe('overload');
  });

  it('replace alarms by id and drop what is normal again', () => {
    const raised = after(joined, changes(2, { alarms: [HOT_CASE] }));
    expect(raised.alarms).toEqual([HOT_CASE]);
    const acknowledged = after(raised, changes(3, { alarms: [{ ...HOT_CASE, state: 'acknowledged' }] }));
    expect(acknowledged.alarms.map((alarm) => alarm.state)).toEqual(['acknowledged']);
    expect(after(acknowledged, changes(4, { alarms: [{ ...HOT_CASE, state: 'normal' }] })).alarms).toEqual(
      [],
    );
  });

  it('replace one instrument and leave the others in their order', () => {
    const lost = { ...INSTRUMENTS[1]!, state: 'lost' as const, why: 'unplugged' };
    const state = after(joined, changes(2, { instruments: [lost] }));
    expect(state.instruments.map((one) => `${one.name} ${one.state}`)).toEqual([
      'meter reading',
      'probes lost',
      'rails reading',
    ]);
  });

  it('add up what was left out for a slow page', () => {
    expect(after(after(joined, changes(2, { leftOut: 3 })), changes(3, { leftOut: 4 })).leftOut).toBe(7);
  });
});

describe('what was missed', () => {
  it('is asked for after a gap in the sequence, and until the snapshot comes', () => {
    const gap = after(joined, changes(4));
    expect(gap.wantsSnapshot).toBe(true);
    expect(after(gap, changes(5)).wantsSnapshot).toBe(true);
    expect(after(gap, { ...calm(), seq: 6 }).wantsSnapshot).toBe(false);
  });

  it('is asked for when changes come before any snapshot, and they are not believed', () => {
    const early = after(INITIAL_STATE, changes(9, { alarms: [HOT_CASE] }));
    expect(early).toMatchObject({ wantsSnapshot: true, alarms: [], link: { kind: 'connecting' } });
  });

  it('is asked for after a message that nobody can read', () => {
    expect(reduce(joined, { kind: 'unreadable-message' }).wantsSnapshot).toBe(true);
  });
});

describe('the link', () => {
  it('is down after a close and not live again before a snapshot', () => {
    const down = reduce(joined, { kind: 'closed', reason: 'the session has ended' });
    expect(down).toMatchObject({ link: { kind: 'down' }, goodbye: 'the session has ended' });
    const again = reduce(down, { kind: 'connecting' });
    expect(again).toMatchObject({ link: { kind: 'connecting' }, goodbye: 'the session has ended' });
    expect(after(again, calm())).toMatchObject({ link: { kind: 'live' }, goodbye: null });
  });
});

describe('refusals', () => {
  it('are kept until they have been read, the newest five', () => {
    let state = joined;
    for (let seq = 2; seq < 9; seq += 1) state = after(state, { kind: 'refused', seq, why: `no ${seq}` });
    expect(state.refusals).toEqual(['no 4', 'no 5', 'no 6', 'no 7', 'no 8']);
    expect(reduce(state, { kind: 'refusals-read' }).refusals).toEqual([]);
  });
});

function standing() {
  return {
    id: 'logic.volts',
    measuredBy: 'rails logic',
    value: 5.02,
    mark: null,
    atMs: 754_000,
    verdict: 'inside',
    moving: null,
    stale: false,
  } as const;
}

import { describe, expect, it } from 'vitest';
import { ClockJumps } from '../../../daemon/time/clock-jumps.js';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { manualClock } from '../../manual-clock.js';
import { cabinSession } from '../cabin-session.js';

const START_MS = Date.UTC(2026, 10, 25, 8);

function computer() {
  const wall = manualClock();
  let aheadMs = 0;
  const dateMs = (): number => START_MS + wall.nowMs() + aheadMs;
  return { wall, dateMs, set: (ms: number) => void (aheadMs += ms), jumps: new ClockJumps(wall, dateMs) };
}

describe('a computer that slept or was set', () => {
  it('says nothing while time passes as it should', () => {
    const { wall, jumps } = computer();
    for (let n = 0; n < 100; n += 1) {
      wall.advance(250);
      expect(jumps.next()).toBeNull();
    }
  });

  it('a date that jumps forward, as after a sleep in which the clock stood still: perhaps nobody watched', () => {
    const { wall, jumps, set } = computer();
    wall.advance(250);
    set(1_200_000);
    expect(jumps.next()).toEqual({
      was: '2026-11-25T08:00:00.250Z',
      is: '2026-11-25T08:20:00.250Z',
      unwatchedMs: 1_200_000,
    });
    expect(jumps.next()).toBeNull();
  });

  it('a gap in a clock that counts on during the sleep', () => {
    const { wall, jumps } = computer();
    wall.advance(600_000);
    expect(jumps.next()).toEqual({
      was: '2026-11-25T08:00:00.000Z',
      is: '2026-11-25T08:10:00.000Z',
      unwatchedMs: 600_000,
    });
  });

  it('a date that was set back: everything was watched', () => {
    const { wall, jumps, set } = computer();
    wall.advance(250);
    set(-3_600_000);
    expect(jumps.next()).toMatchObject({ is: '2026-11-25T07:00:00.250Z', unwatchedMs: 0 });
  });
});

it('a session takes it as an event, and its own times go on', async () => {
  const { wall, dateMs, set } = computer();
  const text = 'bench: t\ninstruments: {}\n';
  const { session, pass, events } = await cabinSession(text, () => ({
    linkFor: () => memoryLinkPair('none').link,
    wall,
    dateMs,
  }));
  session.start();
  await pass(500);
  set(1_200_000);
  await pass(250);
  const clocks = events.filter(({ kind }) => kind === 'clock');
  expect(clocks).toEqual([expect.objectContaining({ atMs: 750, unwatchedMs: 1_200_000 })]);
  expect(session.state.alarms.map(({ id, priority }) => [id, priority])).toEqual([['clock-jumped', 'low']]);
});

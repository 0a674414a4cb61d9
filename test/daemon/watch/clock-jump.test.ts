import { describe, expect, it } from 'vitest';
import { acknowledge, poweredCabin, reading, tick, Watched } from './cabin.js';

const clock = (atMs: number, unwatchedMs?: number) =>
  ({
    kind: 'clock',
    atMs,
    was: '2026-11-25T08:00:00.000Z',
    is: '2026-11-25T08:20:00.000Z',
    ...(unwatchedMs !== undefined && { unwatchedMs }),
  }) as const;

describe('a clock that jumped', () => {
  it.each([
    ['nobody watched a supply that is on', poweredCabin(), 1_200_000, 'medium'],
    ['nobody watched a supply that is off', new Watched(), 1_200_000, 'low'],
    ['a date that was set back', poweredCabin(), 0, 'low'],
  ])('%s', (_what, watched, unwatchedMs, priority) => {
    watched.feed(clock(900, unwatchedMs));
    expect(watched.alarm('clock-jumped')).toMatchObject({ priority, active: false, acknowledged: false });
  });

  it('is there until a person has seen it', () => {
    const watched = poweredCabin().feed(clock(900, 60_000), tick(1000));
    expect(watched.told('clock-jumped').map(([, change]) => change)).toEqual(['raised', 'returned']);
    watched.feed(acknowledge(1100, 'clock-jumped'));
    expect(watched.alarm('clock-jumped')).toBeUndefined();
  });

  it('in a recording that doesn’t say for how long is no alarm', () => {
    expect(poweredCabin().feed(clock(900)).alarm('clock-jumped')).toBeUndefined();
  });

  it('resolves nothing', () => {
    const watched = poweredCabin().feed(reading(600, 'meter volts', 6), clock(900, 1_200_000));
    expect(watched.alarm('over-limit:logic.volts')?.active).toBe(true);
  });
});

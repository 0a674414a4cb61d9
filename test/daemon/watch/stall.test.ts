import { describe, expect, it } from 'vitest';
import { acknowledge, instrument, poweredCabin, reading, SUPPLIED, tick, Watched } from './cabin.js';

const stall = (atMs: number, stalledMs: number) => ({ kind: 'stall', atMs, stalledMs }) as const;
const order = (atMs: number, what: 'arm' | 'on', inSight = true) =>
  ({ kind: 'cut-off', atMs, output: 'mains-relay', order: what, inSight }) as const;
const isOn = (atMs: number) =>
  ({ kind: 'output', atMs, output: 'mains-relay', position: 'on', failed: null }) as const;

function throughRelay(): Watched {
  return poweredCabin(SUPPLIED).feed(instrument(600, 'mains-relay', 'open'), order(700, 'on'), isOn(710));
}

describe('a program that was held', () => {
  it.each([
    ['over a supply that is on', poweredCabin(), 'medium'],
    ['over one that is off', new Watched(), 'low'],
  ])('for two seconds %s is an alarm until a person has seen it', (_what, watched, priority) => {
    watched.feed(stall(3000, 2000));
    expect(watched.alarm('stalled')).toMatchObject({ priority, active: false, acknowledged: false });
    watched.feed(acknowledge(3100, 'stalled'));
    expect(watched.alarm('stalled')).toBeUndefined();
  });

  it('for less is none, and drops nothing', () => {
    const watched = throughRelay().feed(order(800, 'arm'), stall(2900, 1999));
    expect(watched.alarm('stalled')).toBeUndefined();
    expect(watched.state.cutOffs[0]?.state).toBe('armed');
  });

  it('by a computer that slept is told as that alone', () => {
    const [was, is] = ['2026-11-25T08:00:00.000Z', '2026-11-25T08:20:00.000Z'];
    const watched = throughRelay().feed(order(800, 'arm'), {
      kind: 'clock',
      atMs: 900,
      was,
      is,
      unwatchedMs: 60_000,
    });
    watched.feed(stall(901, 60_000));
    expect(watched.alarm('stalled')).toBeUndefined();
    expect(watched.state.cutOffs[0]).toMatchObject({ state: 'dropped', alarm: 'clock-jumped' });
  });
});

describe('a cut-off over which nobody watched', () => {
  it.each([
    ['armed', [order(800, 'arm')]],
    ['not armed, but letting power through', []],
  ])('%s is dropped, and only somebody in sight of it arms it again', (_how, orders) => {
    const watched = throughRelay().feed(...orders);
    const before = watched.effects.length;
    watched.feed(stall(3000, 2500));
    expect(watched.effects.slice(before)).toContainEqual(
      expect.objectContaining({ kind: 'cut-off', change: 'dropped', alarm: 'stalled' }),
    );
    watched.feed(tick(3250), order(3300, 'on'));
    expect(watched.effects.at(-1)).toMatchObject({ change: 'refused' });
    watched.feed(order(3400, 'arm', false));
    expect(watched.state.cutOffs[0]?.state).toBe('dropped');
    watched.feed(order(3500, 'arm'));
    expect(watched.state.cutOffs[0]?.state).toBe('armed');
  });

  it('that is neither is left alone', () => {
    const watched = poweredCabin(SUPPLIED).feed(reading(600, 'meter volts', 5), stall(3000, 2500));
    expect(watched.state.cutOffs[0]?.state).toBe('disarmed');
  });
});

import { describe, expect, it } from 'vitest';
import type { CutOffOrder } from '../../../daemon/watch/events.js';
import { orderProblem } from '../../../daemon/watch/cut-off-order.js';
import { instrument, poweredCabin, reading, SUPPLIED, tick, Watched } from './cabin.js';

const RELAY = 'mains-relay';

const order = (atMs: number, what: CutOffOrder, inSight = true) =>
  ({ kind: 'cut-off', atMs, output: RELAY, order: what, inSight }) as const;
const answer = (atMs: number, position: 'on' | 'off', failed: string | null = null) =>
  ({ kind: 'output', atMs, output: RELAY, position, failed }) as const;

/** Powered, the relay connected and closed, and armed at 400 ms. */
const armedCabin = (plan = SUPPLIED): Watched =>
  poweredCabin(plan).feed(
    instrument(100, RELAY, 'open', 'power is off'),
    order(200, 'on'),
    answer(300, 'on'),
    order(400, 'arm'),
  );
const standing = (watched: Watched) => watched.state.cutOffs[0];

describe('a cut-off', () => {
  it('is dropped by its alarm within the reading that raises it', () => {
    const watched = armedCabin().feed(reading(600, 'meter volts', 18));
    expect(watched.effects.filter(({ atMs }) => atMs === 600)).toContainEqual({
      kind: 'cut-off',
      atMs: 600,
      output: RELAY,
      change: 'dropped',
      alarm: 'passing-input:logic.volts',
      why: '',
    });
    expect(standing(watched)).toMatchObject({ state: 'dropped', alarm: 'passing-input:logic.volts' });
  });

  it('is not dropped by alarms that aren’t named, nor while it isn’t armed', () => {
    const watched = armedCabin().feed(instrument(600, 'probes', 'lost', 'unplugged'));
    expect(standing(watched)?.state).toBe('armed');
    const unarmed = poweredCabin(SUPPLIED).feed(reading(600, 'meter volts', 18));
    expect(unarmed.cutOff(RELAY)).toEqual([]);
  });

  it('counts priorities, and only the test points that it is for', () => {
    const plan = (at: readonly string[]) => ({
      ...SUPPLIED,
      cutOffs: [{ output: RELAY, on: ['high'] as const, at }],
    });
    const other = armedCabin(plan(['logic.case'])).feed(reading(600, 'meter volts', 6));
    expect(standing(other)?.state).toBe('armed');
    const same = armedCabin(plan(['logic.volts'])).feed(reading(600, 'meter volts', 6));
    expect(standing(same)?.state).toBe('dropped');
  });

  it('an alarm that belongs to no test point counts for any of them', () => {
    const on = ['instrument-lost'] as const;
    const watched = armedCabin({ ...SUPPLIED, cutOffs: [{ output: RELAY, on, at: ['logic.volts'] }] });
    expect(standing(watched.feed(instrument(600, 'probes', 'lost', 'unplugged')))?.state).toBe('dropped');
  });

  it('stays dropped when all is well again, until a person arms it', () => {
    const watched = armedCabin().feed(reading(600, 'meter volts', 18), answer(650, 'off'));
    watched.hold(1000, 90_000, 'meter volts', 5);
    expect(standing(watched)?.state).toBe('dropped');
    watched.feed(order(90_100, 'disarm'), order(90_200, 'on'));
    expect(watched.cutOff(RELAY).slice(-2)).toEqual(['refused', 'refused']);
    watched.feed(order(90_300, 'arm'), order(90_400, 'on'));
    expect(watched.cutOff(RELAY).slice(-2)).toEqual(['armed', 'switch-on']);
  });

  it('can be put aside no alarm that drops it: a shelved one drops it too', () => {
    const watched = armedCabin(SUPPLIED);
    watched.feed(order(450, 'disarm'), reading(600, 'meter volts', 6));
    watched.feed(
      { kind: 'shelve', atMs: 700, alarm: 'over-limit:logic.volts', untilMs: 60_000 },
      order(800, 'arm'),
    );
    expect(watched.cutOff(RELAY).at(-1)).toBe('refused');
  });

  it.each([
    ['arm', false, /in sight/],
    ['test', true, /not armed/],
    ['disarm', true, /not armed/],
  ] as const)('the order %s (in sight: %s) before it is armed is refused', (what, inSight, why) => {
    const watched = poweredCabin(SUPPLIED).feed(instrument(100, RELAY, 'open'));
    expect(orderProblem(watched.state, { output: RELAY, order: what, inSight })).toMatch(why);
    watched.feed(order(200, what, inSight));
    expect(watched.cutOff(RELAY)).toEqual(['refused']);
  });

  it('is not armed while it isn’t connected, nor while an alarm stands that would drop it', () => {
    const away = poweredCabin(SUPPLIED);
    expect(orderProblem(away.state, order(0, 'arm'))).toMatch(/not connected/);
    const alarmed = poweredCabin(SUPPLIED).feed(
      instrument(100, RELAY, 'open'),
      reading(600, 'meter volts', 18),
    );
    expect(orderProblem(alarmed.state, order(0, 'arm'))).toMatch(/passing-input:logic.volts stands/);
  });

  it('one that the bench doesn’t have is named with those that it has', () => {
    expect(orderProblem(poweredCabin(SUPPLIED).state, { ...order(0, 'arm'), output: 'horn' })).toMatch(
      /no output horn; there is mains-relay/,
    );
  });
});

describe('whether power fell', () => {
  it('is seen by what was live', () => {
    const watched = armedCabin().feed(reading(600, 'meter volts', 18), answer(650, 'off'));
    expect(watched.cutOff(RELAY).at(-1)).toBe('is-off');
    watched.feed(reading(700, 'board raw', 19.5));
    expect(watched.cutOff(RELAY).at(-1)).toBe('is-off');
    watched.feed(reading(1200, 'board raw', 12));
    expect(watched.cutOff(RELAY).at(-1)).toBe('fell');
  });

  it('an output that fails is an alarm of its own, high and latched', () => {
    const watched = armedCabin().feed(
      reading(600, 'meter volts', 18),
      answer(900, 'off', 'its link was lost'),
    );
    expect(watched.alarm('cut-off-failed:mains-relay')).toMatchObject({
      active: true,
      priority: 'high',
      latched: true,
      cause: { why: 'its link was lost' },
    });
  });

  it('a contact that has welded says that it is open, and the rails stay up', () => {
    const watched = armedCabin().feed(reading(600, 'meter volts', 18), answer(650, 'off'));
    for (let atMs = 1000; atMs <= 31_000; atMs += 500)
      watched.feed(reading(atMs, 'board raw', 19.9), reading(atMs, 'meter volts', 18));
    const cause = watched.alarm('cut-off-failed:mains-relay')?.cause;
    expect(cause?.kind === 'cut-off-failed' && cause.why).toMatch(
      /says that power is off, but .*did not fall/,
    );
  });

  it('an output that failed and is off after all lets its alarm return, and be armed again', () => {
    const plan = { ...SUPPLIED, cutOffs: [{ output: RELAY, on: ['high'] as const, at: null }] };
    const watched = armedCabin(plan).feed(
      order(500, 'disarm'),
      order(600, 'off'),
      answer(650, 'off', 'lost'),
    );
    expect(orderProblem(watched.state, order(700, 'arm'))).toMatch(/cut-off-failed:mains-relay stands/);
    // As the alarm asks for, somebody switched off at the mains.
    watched.feed(reading(90_000, 'board raw', 0.1), reading(90_000, 'meter volts', 0));
    watched.feed(order(91_000, 'off'), answer(91_100, 'off'));
    expect(watched.alarm('cut-off-failed:mains-relay')).toMatchObject({ active: false, latched: true });
    expect(orderProblem(watched.state, order(92_000, 'arm'))).toBeNull();
  });

  it('an output that has dropped and says that it is on is dropped again', () => {
    const watched = armedCabin().feed(
      reading(600, 'meter volts', 18),
      answer(650, 'off', 'its link was lost'),
      reading(4900, 'board raw', 19.9),
      answer(5000, 'on'),
      answer(5100, 'off'),
    );
    expect(watched.cutOff(RELAY).slice(-5)).toEqual(['dropped', 'failed', 'is-on', 'dropped', 'is-off']);
    expect(standing(watched)).toMatchObject({ state: 'dropped', alarm: 'passing-input:logic.volts' });
    watched.feed(reading(5200, 'board raw', 12));
    expect(watched.alarm('cut-off-failed:mains-relay')?.active).toBe(false);
  });

  it('an output that never answers is an alarm too', () => {
    const watched = armedCabin().feed(reading(600, 'meter volts', 18), tick(31_000));
    expect(watched.alarm('cut-off-failed:mains-relay')?.active).toBe(true);
  });
});

describe('its test', () => {
  it('takes power away, wants to see it fall, and leaves it dropped', () => {
    const watched = armedCabin().feed(
      order(600, 'test'),
      answer(650, 'off'),
      reading(1500, 'meter volts', 1),
    );
    expect(watched.cutOff(RELAY).slice(-3)).toEqual(['test', 'is-off', 'fell']);
    expect(standing(watched)).toMatchObject({ state: 'dropped', alarm: null });
  });

  it('says so when nothing live was measured', () => {
    const watched = new Watched(SUPPLIED).feed(
      instrument(100, RELAY, 'open'),
      order(200, 'arm'),
      order(300, 'test'),
      answer(350, 'off'),
    );
    expect(watched.cutOff(RELAY).at(-1)).toBe('not-seen-falling');
    expect(watched.state.alarms).toEqual([]);
  });
});

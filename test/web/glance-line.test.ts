import { describe, expect, it } from 'vitest';
import type { SnapshotMessage } from '../../daemon/serve/messages.js';
import { glanceLine, type Glance } from '../../web/glance-line.js';
import { judged } from '../../web/looks-off.js';
import { INITIAL_STATE, reduce, type PageState } from '../../web/session-state.js';
import { calm, HOT_CASE, LOW_LOGIC, NOW_MS, troubled, unprobed, withPoints } from './signal-cabin.js';

function liveState(message: SnapshotMessage): PageState {
  return reduce(INITIAL_STATE, { kind: 'message', wallMs: 1000, message });
}

/** As the page shows it. */
function shownState(message: SnapshotMessage): PageState {
  return judged(liveState(message));
}

function glanceAt(state: PageState, wallMs = 1000, steadyMs: number | null = null): Glance {
  const { tone, sentence, cure } = glanceLine({ state, wallMs, steadyMs: () => steadyMs });
  return { tone, sentence: sentence.replaceAll('\u00a0', ' '), cure: cure.replaceAll('\u00a0', ' ') };
}

describe('when all is well', () => {
  it('names what is closest to a limit, by how much, and how long it has been steady', () => {
    // 5.02 V is 0.27 V above 4.75 V: 1.04 widths of its band; the cases are 53.2/21 and 62.7/22 widths away.
    const glance = glanceAt(liveState(calm()), 1000, 240_000);
    expect(glance.sentence).toBe(
      'All well: closest to a limit is logic, 5.02 V with 0.27 V to spare, steady for 4 min.',
    );
    expect(glance.cure).toMatch(/^Lower limit 4.75 V: the logic load resets\. 6 of 12 test points measured/);
  });

  it('says nothing about steadiness before ten seconds', () => {
    expect(glanceAt(liveState(calm()), 1000, 9_000).sentence).not.toContain('steady');
  });
});

describe('the worst comes first', () => {
  it('an alarm by priority, with its cure and what the design would need', () => {
    const glance = glanceAt(liveState(troubled()));
    const cure = `${HOT_CASE.cure} Fit a heatsink of 9 K/W or better.`;
    expect(glance).toEqual({ tone: 'high', sentence: HOT_CASE.sentence, cure });
  });

  it('a temperature that is heading over its limit, before its alarm', () => {
    const settles = { low: 120, typical: 131, high: 143 };
    const glance = glanceAt(
      liveState(withPoints(calm(), { 'logic.case': { settles, going: 'on-its-way' } })),
    );
    expect(glance.tone).toBe('watch');
    expect(glance.sentence).toBe(
      'Logic regulator case is heading for 131 °C (120 to 143 °C), over its limit of 107 °C.',
    );
    expect(glance.cure).toBe('Be ready to switch off. Fit a heatsink of 9 K/W or better.');
  });

  it('an acknowledged alarm that is still so stays in sight', () => {
    const seen = { ...HOT_CASE, state: 'acknowledged' as const };
    expect(glanceAt(liveState({ ...calm(), alarms: [LOW_LOGIC, seen] })).sentence).toBe(HOT_CASE.sentence);
  });

  it.each(['returned-unacknowledged', 'latched-unacknowledged', 'latched-acknowledged'] as const)(
    'an alarm that is %s is no longer told as if it were so, and comes after what is',
    (state) => {
      const over = { ...HOT_CASE, state };
      expect(glanceAt(liveState({ ...calm(), alarms: [over, LOW_LOGIC] })).sentence).toBe(LOW_LOGIC.sentence);
      const glance = glanceAt(liveState({ ...calm(), alarms: [over] }));
      expect(glance.tone).toBe('watch');
      expect(glance.sentence).toBe(`No longer so: ${HOT_CASE.sentence}`);
      expect(glance.cure).not.toContain('Switch off at the mains now');
    },
  );

  it('an alarm that another one explains does not', () => {
    const explained = { ...HOT_CASE, state: 'suppressed' as const };
    expect(glanceAt(liveState({ ...calm(), alarms: [explained] })).tone).toBe('well');
  });

  it.each([
    [{ verdict: 'outside', value: 4.6 }, 'Logic is outside: 4.60 V, predicted 4.87 to 5.13 V.'],
    [{ verdict: 'doubtful', value: 4.86 }, 'Logic is doubtful: 4.86 V, predicted 4.87 to 5.13 V.'],
    [{ stale: true }, 'Logic has gone silent.'],
    [{ value: null, mark: 'overload', verdict: null }, 'Logic is over the meter’s range.'],
    [{ value: null, mark: 'not-a-number', verdict: null }, 'Logic gives no number.'],
  ] as const)('a point with %o before any alarm', (changed, sentence) => {
    const glance = glanceAt(liveState(withPoints(calm(), { 'logic.volts': changed })));
    expect(glance.tone).toBe('watch');
    expect(glance.sentence).toBe(sentence);
  });
});

describe('when the page is not live', () => {
  it('says so before everything else, for how long, and what was last known', () => {
    const down = reduce(liveState(troubled()), { kind: 'closed', reason: '' });
    const glance = glanceAt(down, 13_500);
    expect(glance.sentence).toBe('Not live: nothing heard for 12 s.');
    expect(glance.cure).toContain(HOT_CASE.sentence);
  });

  it('passes on what the daemon said when it closed', () => {
    const down = reduce(liveState(calm()), { kind: 'closed', reason: 'the session has ended' });
    expect(glanceAt(down, 61_000).sentence).toBe('Not live: the session has ended, 60 s ago.');
  });

  it('tells a first visitor what to start', () => {
    expect(glanceAt(INITIAL_STATE).sentence).toBe('Not live: no word from the bench yet.');
  });
});

describe('when the supply is switched off', () => {
  const dead = { value: 0.01, verdict: 'outside' } as const;
  const off = withPoints(calm(), {
    'reservoir.volts': dead,
    'lamps.volts': { ...dead, value: -0.02 },
    'logic.volts': dead,
  });

  it('says so, calls nothing outside, and never says that it is safe', () => {
    const glance = glanceAt(shownState(off));
    expect(glance.tone).toBe('idle');
    expect(glance.sentence).toBe(
      'It looks switched off where it is measured; the mains side may be live all the same.',
    );
  });

  it('tells a hot part all the same', () => {
    const hot = withPoints(off, { 'logic.case': { value: 99, verdict: 'outside' } });
    expect(glanceAt(shownState(hot)).sentence).toMatch(/^Logic regulator case is outside: 99/);
  });

  it.each([
    ['one rail has broken down', { 'reservoir.volts': { value: 18.6, verdict: 'inside' } }],
    ['half the mains is on it', { 'reservoir.volts': { value: 9.3, verdict: 'outside' } }],
  ] as const)('tells what is outside when %s', (_what, changed) => {
    expect(glanceAt(shownState(withPoints(off, changed))).tone).toBe('watch');
  });

  it('knows nothing of it when everything has gone silent', () => {
    const silent = { ...off, points: off.points.map((point) => ({ ...point, stale: true })) };
    expect(glanceAt(shownState(silent)).sentence).toMatch(/has gone silent/);
  });
});

describe('when there is nothing to see', () => {
  it.each([
    ['no points', { ...calm(), points: [] }, 'This supply has no test points yet.'],
    ['no probes', unprobed(), 'Nothing is measured yet.'],
    [
      'no reading yet',
      {
        ...calm(),
        points: calm().points.map((point) => ({ ...point, value: null, verdict: null, atMs: null })),
      },
      'Waiting for the first reading.',
    ],
  ])('%s', (_what, snapshot, sentence) => {
    const glance = glanceAt(liveState(snapshot));
    expect(glance.sentence).toBe(sentence);
    expect(glance.cure).not.toBe('');
  });

  it('never says well when only the stale is left', () => {
    const stale = {
      ...calm(),
      points: calm().points.map((point) => ({ ...point, stale: true, atMs: NOW_MS - 9000 })),
    };
    expect(glanceAt(liveState(stale)).tone).toBe('watch');
  });
});

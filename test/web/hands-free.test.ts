import { beforeEach, describe, expect, it } from 'vitest';
import { HandsFree, pointsFor } from '../../web/hands-free.js';
import { INITIAL_STATE, reduce, type PageState } from '../../web/session-state.js';
import { calm, NOW_MS, withPoints } from './signal-cabin.js';

/** One meter, by hand on the reservoir; nothing else measures volts. */
function state(): PageState {
  const nobody = { measuredBy: null, value: null, verdict: null } as const;
  const message = withPoints(calm(), { 'lamps.volts': nobody, 'logic.volts': nobody });
  return reduce(INITIAL_STATE, { kind: 'message', wallMs: 0, message });
}

function settledOn(now: PageState, point: string, value: number, atMs: number): PageState {
  const points = now.points.map((one) =>
    one.id === point ? { ...one, measuredBy: 'meter volts', value, atMs, verdict: 'inside' as const } : one,
  );
  return {
    ...now,
    points,
    settled: { ...now.settled, [point]: { point, atMs, value, standardUncertainty: 0.01 } },
  };
}

describe('hands-free', () => {
  let said: string[];
  let tones: string[];
  let sent: string[];
  let voice: boolean;
  let hands: HandsFree;

  beforeEach(() => {
    [said, tones, sent, voice] = [[], [], [], true];
    hands = new HandsFree({
      send: (message) => void sent.push(`${message.kind} ${'point' in message ? message.point : ''}`),
      say: (words) => (said.push(words), voice),
      tone: (standing) => void tones.push(standing),
    });
  });

  it('leads a probe over the low-voltage points that nothing else measures', () => {
    expect(pointsFor('meter volts', state())).toEqual(['reservoir.volts', 'lamps.volts', 'logic.volts']);
    hands.update(state(), false);
    hands.start('meter volts');
    const first = settledOn(state(), 'reservoir.volts', 18.7, NOW_MS + 1);
    hands.update(first, false);
    hands.update(settledOn(first, 'reservoir.volts', 0.01, NOW_MS + 2), false);
    expect(sent).toEqual(['probe reservoir.volts', 'probe lamps.volts']);
    expect(said).toEqual(['next, reservoir', 'reservoir, 18 point seven oh, inside', 'next, lamps']);
  });

  it('asks instead of guessing, and tells what a person answers', () => {
    hands.update(state(), false);
    hands.start('meter volts');
    hands.forward();
    hands.update(settledOn(state(), 'lamps.volts', 5.01, NOW_MS + 1), false);
    expect(said.at(-1)).toBe('five point oh one fits logic better. Is the probe there?');
    hands.forward();
    expect(sent.at(-1)).toBe('probe logic.volts');
    expect(said.at(-1)).toMatch(/^logic, five point oh one/);
  });

  it('tells verdicts by tones where there is no voice', () => {
    voice = false;
    hands.update(state(), true);
    hands.update(settledOn(state(), 'logic.volts', 5.02, NOW_MS + 1), true);
    expect(tones).toEqual(['inside']);
  });

  it('is silent while the page is not live, and about what was not asked for', () => {
    hands.update(settledOn(state(), 'logic.volts', 5.02, NOW_MS + 1), false);
    hands.update({ ...settledOn(state(), 'logic.volts', 5.1, NOW_MS + 2), link: { kind: 'down' } }, true);
    expect(said).toEqual([]);
  });
});

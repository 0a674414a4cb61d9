import { describe, expect, it } from 'vitest';
import { SuspectWeigher, type SuspectQuestion } from '../../../daemon/suspects/weigher.js';
import type { Ways } from '../../../daemon/watch/suspects/next-point.js';
import type { Settled } from '../../../daemon/watch/suspects/settled.js';
import { cabin } from '../design/signal-cabin.js';
import { sessionOf } from '../watch/suspects/sessions.js';

const design = cabin();
const METER = { instrument: 'meter', channel: 'volts', isTyped: true };
const WAYS: Ways = { 'reservoir.volts': METER, 'lamps.volts': METER, 'logic.volts': METER };
const { settled } = sessionOf(design, 'typical', { fault: 'diode-open', about: 'rectifier' }, 7);

function asked(readings: readonly Settled[]): SuspectQuestion {
  return { settled: readings, load: 'typical', isLoadSure: true };
}

function taken(...points: string[]): SuspectQuestion {
  return asked(settled.filter(({ point }) => points.includes(point)));
}

const weigher = new SuspectWeigher({ design, seed: 1, ways: WAYS });
// Worked out here, before any test's time runs.
const atFirst = weigher.judge(taken());

describe('on a bench without a clamp, the next point (seed 7)', () => {
  it('is one that the bench measures, with its meter, while one of those tells anything', () => {
    const { next } = atFirst;
    expect(Object.keys(WAYS)).toContain(next?.point);
    expect(next?.way).toEqual(METER);
  });

  // A dried capacitor and an open diode both double the ripple; only the diode changes the pulses of current.
  it('is another only after them, and is said to be out of reach', () => {
    const { next, suspects } = weigher.judge(taken(...Object.keys(WAYS), 'reservoir.ripple'));
    expect(next).toMatchObject({ point: 'transformer.amps', way: null });
    expect(suspects[0]!.alike?.length).toBeGreaterThan(0);
  });

  it('is none for a supply that is in order as far as the bench tells', () => {
    const healthy = sessionOf(design, 'typical', null, 7).settled;
    const { next, suspects } = weigher.judge(
      asked(healthy.filter(({ point }) => point !== 'reservoir.valley')),
    );
    expect(suspects[0]!.fault).toBe('healthy');
    expect(next).toBeNull();
  });
});

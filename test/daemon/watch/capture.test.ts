import { describe, expect, it } from 'vitest';
import type { CaptureEvent, WatchEvent } from '../../../daemon/watch/events.js';
import { instrument, PLAN, probe, Watched } from './cabin.js';

/** A hundred milliseconds of a sawtooth of `hertz` and `peakToPeak` volts round 20 V, sampled at 20 kHz in 1 mV counts. */
function sawtooth(atMs: number, hertz: number, peakToPeak: number): CaptureEvent {
  const volts = Array.from({ length: 2000 }, (_, index) => {
    const phase = ((index / 20_000) * hertz) % 1;
    // Charged in a fifth of the time, discharged in the rest.
    const share = phase < 0.2 ? phase / 0.2 : (1 - phase) / 0.8;
    return 20 + peakToPeak * (share - 0.5);
  });
  const samples = Buffer.from(Int16Array.from(volts, (value) => Math.round(1000 * value)).buffer).toString(
    'base64',
  );
  return {
    kind: 'capture',
    atMs,
    instrument: 'board',
    channel: 'raw',
    point: 'reservoir.ripple',
    unit: 'V',
    counts: 'i16',
    samples,
    scale: 0.001,
    offset: 0,
    startSeconds: 0,
    stepSeconds: 1 / 20_000,
    coupling: 'dc',
  };
}

/** The scope's probe on the reservoir, of which 0.8 to 1.4 V peak to peak are predicted. */
function scopeOn(point: string): Watched {
  return new Watched().feed(instrument(0, 'board', 'reading'), probe(0, 'board raw', point));
}

describe('a capture', () => {
  it('is a reading of the ripple where the probe sits on it, within 5 %', () => {
    const watched = scopeOn('reservoir.ripple').feed(sawtooth(1000, 100, 1.1));
    const point = watched.state.points.find(({ id }) => id === 'reservoir.ripple');
    expect(Math.abs((point?.value ?? 0) / 1.1 - 1)).toBeLessThan(0.05);
    expect(point?.verdict).toBe('inside');
    expect(watched.effects).toContainEqual(
      expect.objectContaining({ kind: 'ripple', point: 'reservoir.ripple' }),
    );
  });

  it('is a reading of the mean where the probe sits on the volts', () => {
    const watched = scopeOn('reservoir.volts').feed(sawtooth(1000, 100, 1.1));
    expect(watched.state.points.find(({ id }) => id === 'reservoir.volts')?.value).toBeCloseTo(20, 1);
  });

  // The sawtooth lies half of its height above and below 20 V.
  it('is a reading of the valley where the probe sits on that', () => {
    const valley = { ...PLAN.prediction.points['reservoir.volts']!, id: 'reservoir.valley' };
    const points = { ...PLAN.prediction.points, 'reservoir.valley': valley };
    const watched = new Watched({ ...PLAN, prediction: { ...PLAN.prediction, points } }).feed(
      instrument(0, 'board', 'reading'),
      probe(0, 'board raw', 'reservoir.valley'),
      { ...sawtooth(1000, 100, 1.1), point: 'reservoir.valley' },
    );
    const point = watched.state.points.find(({ id }) => id === 'reservoir.valley');
    expect(Math.abs((point?.value ?? 0) - 19.45)).toBeLessThan(0.06);
  });

  it('again and again with too much ripple raises the alarm', () => {
    const watched = scopeOn('reservoir.ripple');
    for (let atMs = 1000; atMs <= 6000; atMs += 1000) watched.feed(sawtooth(atMs, 100, 3));
    expect(watched.told('outside-prediction:reservoir.ripple').map(([, change]) => change)).toEqual([
      'raised',
    ]);
  });

  it('that is too short tells so, and is no reading', () => {
    const long = sawtooth(1000, 100, 1.1);
    const short = { ...long, samples: (long as { samples: string }).samples.slice(0, 400) } as WatchEvent;
    const watched = scopeOn('reservoir.ripple').feed(short);
    expect(watched.state.points.find(({ id }) => id === 'reservoir.ripple')?.value).toBeNull();
    expect(watched.effects).toContainEqual(
      expect.objectContaining({ ripple: expect.objectContaining({ kind: 'too-short' }) as unknown }),
    );
  });
});

import { describe, expect, it } from 'vitest';
import type { CaptureEvent } from '../../../daemon/watch/events.js';
import { poweredCabin, probe, SUPPLIED } from './cabin.js';

const STEP_S = 1e-4;

/** A sawtooth that is charged `aSecond` times a second around 20 V, and whatever is added. */
function capture(atMs: number, point: string, volts: (seconds: number) => number): CaptureEvent {
  const counts = Int16Array.from({ length: 2000 }, (_, i) => Math.round(volts(i * STEP_S) * 1000));
  return {
    kind: 'capture',
    atMs,
    instrument: 'board',
    channel: 'raw',
    point,
    unit: 'V',
    counts: 'i16',
    samples: Buffer.from(counts.buffer).toString('base64'),
    scale: 0.001,
    offset: 0,
    startSeconds: 0,
    stepSeconds: STEP_S,
    coupling: 'dc',
  };
}

const sawtooth = (aSecond: number, peakToPeak: number) => (seconds: number) =>
  20 + peakToPeak * (0.5 - ((seconds * aSecond) % 1));

const RATE = 'ripple-frequency:reservoir.ripple';

describe('how often the ripple repeats (a bridge charges twice a mains cycle, a half-wave rectifier once; textbook)', () => {
  it('once where twice is expected: half of the bridge, on one capture', () => {
    const watched = poweredCabin(SUPPLIED).feed(
      probe(400, 'board raw', 'reservoir.ripple'),
      capture(500, 'reservoir.ripple', sawtooth(50, 2.4)),
    );
    expect(watched.alarm(RATE)).toMatchObject({ active: true, priority: 'medium', firstUp: true });
    const { cause } = watched.alarm(RATE)!;
    expect(cause.kind === 'ripple-frequency' && cause.mainsHertz).toBeCloseTo(50, 0);
  });

  it('twice is as it should be, and ends it', () => {
    const watched = poweredCabin(SUPPLIED).feed(
      probe(400, 'board raw', 'reservoir.ripple'),
      capture(500, 'reservoir.ripple', sawtooth(50, 2.4)),
      capture(2500, 'reservoir.ripple', sawtooth(100, 1.1)),
    );
    expect(watched.told(RATE)).toEqual([
      [500, 'raised'],
      [2500, 'returned'],
    ]);
  });

  it('what a probe shows of a supply that is switched off is not judged', () => {
    const switchedOff = (volts: number): number[][] => {
      const watched = poweredCabin(SUPPLIED)
        .hold(500, 3000, 'board raw', volts)
        .hold(500, 3000, 'meter volts', volts / 4);
      watched.feed(probe(3100, 'probes t2', 'reservoir.ripple'), {
        ...capture(3200, 'reservoir.ripple', sawtooth(50, 0.3)),
        instrument: 'probes',
        channel: 't2',
      });
      return watched.told(RATE).map(([atMs]) => [atMs]);
    };
    expect(switchedOff(0)).toEqual([]);
    expect(switchedOff(20)).toEqual([[3200]]);
  });

  it('is not asked of next to no ripple: 0.8 V at least is predicted', () => {
    const rates = [0.15, 0.9].map((peakToPeak) =>
      poweredCabin(SUPPLIED)
        .feed(
          probe(400, 'board raw', 'reservoir.ripple'),
          capture(500, 'reservoir.ripple', sawtooth(50, peakToPeak)),
        )
        .told(RATE),
    );
    expect(rates).toEqual([[], [[500, 'raised']]]);
  });

  it('the reverse behind a half-wave rectifier', () => {
    const plan = { ...SUPPLIED, supply: { ...SUPPLIED.supply!, rippleRate: 'mains' as const } };
    const watched = poweredCabin(plan).feed(
      probe(400, 'board raw', 'reservoir.ripple'),
      capture(500, 'reservoir.ripple', sawtooth(100, 1.1)),
    );
    expect(watched.alarm(RATE)?.cause).toMatchObject({ expected: 'mains' });
  });

  it('explains that there is more ripple', () => {
    const watched = poweredCabin(SUPPLIED).feed(probe(400, 'board raw', 'reservoir.ripple'));
    for (let atMs = 500; atMs < 6000; atMs += 500)
      watched.feed(capture(atMs, 'reservoir.ripple', sawtooth(50, 2.4)));
    expect(watched.alarm('outside-prediction:reservoir.ripple')?.suppressedBy).toEqual([RATE]);
  });
});

describe('an oscillation', () => {
  const OSCILLATING = 'oscillating:lamps.ripple';
  const hum = (seconds: number) => 12 + 0.01 * Math.sin(2 * Math.PI * 100 * seconds);

  it('on a rail is told with its frequency', () => {
    const watched = poweredCabin(SUPPLIED).feed(
      probe(400, 'board raw', 'lamps.ripple'),
      capture(500, 'lamps.ripple', (s) => hum(s) + 0.2 * Math.sin(2 * Math.PI * 2300 * s)),
    );
    const cause = watched.alarm(OSCILLATING)?.cause;
    expect(cause?.kind).toBe('oscillating');
    if (cause?.kind !== 'oscillating') return;
    if (cause.hertz !== null) expect(Math.abs(cause.hertz - 2300)).toBeLessThan(60);
    expect(cause.peakToPeak).toBeGreaterThan(0.3);
    expect(cause.peakToPeak).toBeLessThan(0.5);
  });

  it('a quiet rail has none', () => {
    const watched = poweredCabin(SUPPLIED).feed(
      probe(400, 'board raw', 'lamps.ripple'),
      capture(500, 'lamps.ripple', hum),
    );
    expect(watched.alarm(OSCILLATING)).toBeUndefined();
  });

  it('behind a switching module it is its own frequency', () => {
    const rails = SUPPLIED.supply!.rails.map((rail) => ({ ...rail, switches: true }));
    const plan = { ...SUPPLIED, supply: { ...SUPPLIED.supply!, rails } };
    const watched = poweredCabin(plan).feed(
      probe(400, 'board raw', 'lamps.ripple'),
      capture(500, 'lamps.ripple', (s) => hum(s) + 0.2 * Math.sin(2 * Math.PI * 2300 * s)),
    );
    expect(watched.alarm(OSCILLATING)).toBeUndefined();
  });
});

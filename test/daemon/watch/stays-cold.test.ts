import { describe, expect, it } from 'vitest';
import { instrument, PREDICTION, probe, reading, SUPPLIED, Watched } from './cabin.js';

const COLD = 'outside-prediction:logic.case';
/** One and a half of the usual 900 s, a minute for the probe, and some readings. */
const TOLD_BY_S = 1350 + 60 + 30;

interface Table {
  /** Volts of the reservoir; null: nobody measures it. */
  readonly raw?: (s: number) => number | null;
  readonly rail?: (s: number) => number;
  /** Degrees C at the case; null: its probe lies on the bench. */
  readonly celsius: (s: number) => number | null;
}

/** Twenty seconds of rest at 22 degrees, then power; a reading of each every two seconds. */
function session({ raw = (s) => (s > 20 ? 20 : 0), rail, celsius }: Table, untilS: number): Watched {
  const channels = SUPPLIED.channels.map((one) => ({ ...one, intervalMs: 2000 }));
  const watched = new Watched({ ...SUPPLIED, channels }).feed(
    ...['meter', 'probes', 'board'].map((name) => instrument(0, name, 'reading')),
    probe(0, 'probes t1', 'logic.case'),
    probe(0, 'board raw', 'reservoir.volts'),
  );
  if (rail !== undefined) watched.feed(probe(0, 'meter volts', 'logic.volts'));
  for (let s = 0; s <= untilS; s += 2) {
    const [volts, case_] = [raw(s), s <= 20 ? 22 : celsius(s)];
    if (volts !== null) watched.feed(reading(1000 * s, 'board raw', volts));
    if (rail !== undefined) watched.feed(reading(1000 * s, 'meter volts', rail(s)));
    if (case_ !== null) {
      const shown = Math.round(10 * (case_ + 0.1 * Math.sin(1.7 * s))) / 10;
      watched.feed(reading(1000 * s, 'probes t1', shown, 'degC'));
    }
  }
  return watched;
}

/** Warming of a lumped body (Newton's law). */
const warming = (rise: number, tau: number) => (s: number) => 22 + rise * (1 - Math.exp(-(s - 20) / tau));

describe('a part that should be warm by now', () => {
  it('is told, with what to check, where its probe lies in the warm air beside it', () => {
    const watched = session({ celsius: warming(5, 600) }, TOLD_BY_S);
    const [[atMs, change] = [0, '']] = watched.told(COLD);
    expect(change).toBe('raised');
    expect(atMs / 1000).toBeGreaterThan(1350);
    expect(watched.alarm(COLD)?.priority).toBe('medium');
  });

  it.each([
    ['warms twice as slowly as usual', warming(33, 1800)],
    ['settles at the low end of what is predicted', warming(23, 700)],
  ])('is not told where it %s', (_, celsius) => {
    expect(session({ celsius }, 4000).told(COLD)).toEqual([]);
  });

  it.each([
    ['the supply is off', () => 0],
    ['nothing shows that power is on', () => null],
    ['the supply was off a while ago', (s: number) => (s > 20 && (s < 1300 || s > 1360) ? 20 : 0)],
  ])('is not told where %s', (_, raw) => {
    expect(session({ raw, celsius: () => 23 }, TOLD_BY_S).told(COLD)).toEqual([]);
  });

  it('is not told of a probe that takes on its temperature', () => {
    const celsius = (s: number): number | null => (s < 2000 ? null : 55 - 33 * Math.exp((2000 - s) / 15));
    expect(session({ celsius }, 2400).told(COLD)).toEqual([]);
  });

  it('is explained by its rail when that is dead', () => {
    const watched = session({ celsius: () => 23, rail: (s) => (s > 20 ? 0.2 : 0) }, TOLD_BY_S);
    expect(watched.alarm('over-limit:logic.volts')).toMatchObject({ active: true, suppressedBy: [] });
    expect(watched.alarm(COLD)?.suppressedBy).toContain('over-limit:logic.volts');
  });

  it('needs a rise that a probe beside it would not show: 45 °C at least is predicted here', () => {
    expect(PREDICTION.points['logic.case']?.low).toBe(45);
    expect(session({ celsius: warming(13, 600) }, TOLD_BY_S).told(COLD)).toEqual([]);
  });
});

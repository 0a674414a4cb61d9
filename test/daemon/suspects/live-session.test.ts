import { describe, expect, it } from 'vitest';
import { cabin } from '../design/signal-cabin.js';
import { outcomeOf } from '../watch/suspects/outcome.js';
import type { BenchFault } from '../watch/suspects/sessions.js';
import { liveSession } from './live-session.js';

const design = cabin();

interface Case {
  readonly title: string;
  readonly struck: BenchFault | null;
  readonly seed: number;
  /** Long enough for its evidence: what shows in volts and ripple is there within two minutes. */
  readonly minutes: number;
}

const struckBy = (fault: string, about: string, seed: number, minutes = 2): Case => ({
  title: `${fault} ${about} (seed ${seed})`,
  struck: { fault, about },
  seed,
  minutes,
});

// The truth is what was put into a supply that is integrated in time steps, and shares no formula with predictions.
// `npm run bench suspects` runs many more of them.
const CASES: readonly Case[] = [
  { title: 'nothing (seed 1)', struck: null, seed: 1, minutes: 6 },
  { title: 'nothing (seed 3)', struck: null, seed: 3, minutes: 2 },
  struckBy('diode-open', 'rectifier', 2),
  struckBy('diode-open', 'rectifier', 38),
  struckBy('diode-open', 'rectifier', 74),
  struckBy('reservoir-dried', 'reservoir', 8),
  struckBy('tap-too-low', 'transformer', 6),
  struckBy('adjust-grounded', 'lamps', 32),
  struckBy('regulator-passes-input', 'logic', 20),
  struckBy('overload', 'logic', 22),
  struckBy('overload', 'lamps', 12),
  struckBy('heatsink-missing', 'logic', 24, 6),
];

describe.each(CASES)('a live session at typical load with $title', ({ struck, seed, minutes }) => {
  const { truth, told } = liveSession({ design, load: 'typical', struck, seed, minutes });
  const last = told.at(-1)!;

  it('ends with the truth leading, or named with what leads', () => {
    expect(outcomeOf(truth, last.suspects, last.other).isNamed, JSON.stringify(last.suspects)).toBe(true);
  });
});

describe('a load that nobody named', () => {
  it('an open diode at typical load is never taken for a full load (seed 2)', () => {
    const struck = { fault: 'diode-open', about: 'rectifier' };
    const { recognised } = liveSession({ design, load: 'typical', struck, seed: 2, minutes: 2 });
    expect(recognised).toEqual([]);
  });

  // Either draws the current of another load; the heat of one regulator, or the volts of a rail, are not those of it.
  it.each([
    { load: 'idle', fault: 'overload', about: 'logic', seed: 22, taken: 'typical' },
    { load: 'typical', fault: 'r2-too-large', about: 'lamps', seed: 34, taken: 'full' },
  ] as const)(
    '$fault of $about at $load is taken for $taken load until more is measured (seed $seed)',
    ({ load, fault, about, seed, taken }) => {
      const { recognised } = liveSession({ design, load, struck: { fault, about }, seed, minutes: 2 });
      expect(recognised).toEqual([taken, load]);
    },
  );

  it('a full load on a supply that was said to feed a typical one is recognised, and no fault (seed 1)', () => {
    const { recognised, told } = liveSession({
      design,
      load: 'full',
      said: 'typical',
      struck: null,
      seed: 1,
      minutes: 2,
    });
    expect(recognised).toEqual(['full']);
    expect(told.at(-1)?.suspects[0]?.fault).toBe('healthy');
    expect(told.at(-1)?.otherLoad?.load).toBe('full');
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SettledView } from '../../daemon/serve/messages.js';
import {
  back,
  beginRound,
  fitsBetter,
  forward,
  probeRead,
  probeSettled,
  type Followed,
} from '../../web/probe-follow.js';
import { POINTS } from './signal-cabin.js';

const ORDER = ['reservoir.volts', 'lamps.volts', 'logic.volts'] as const;
const settled = (point: string, value: number): SettledView => ({
  point,
  atMs: 1000,
  value,
  standardUncertainty: 0.01,
});
const told = ({ acts }: Followed): string[] =>
  acts.map((act) => ('point' in act ? `${act.kind} ${act.point}` : act.kind));
const begun = () => beginRound('meter', 'volts', ORDER);

describe('a probe that is followed', () => {
  it('is sent to the first point, told its verdict, and after lifting sent to the next', () => {
    const first = begun();
    expect(told(first)).toEqual(['move reservoir.volts', 'announce reservoir.volts']);
    const second = probeSettled(first.round, settled('reservoir.volts', 18.7), POINTS);
    expect(told(second)).toEqual(['verdict reservoir.volts']);
    expect(told(probeRead(second.round, 18.71))).toEqual([]);
    expect(told(probeRead(second.round, 0.02))).toEqual(['move lamps.volts', 'announce lamps.volts']);
    expect(told(probeRead(second.round, null))).toEqual(['move lamps.volts', 'announce lamps.volts']);
  });

  it('asks when the reading fits another point better: 5.01 V where 12 V were predicted', () => {
    const { round } = forward(begun().round);
    const asked = probeSettled(round, settled('lamps.volts', 5.01), POINTS);
    expect(asked.acts).toEqual([{ kind: 'ask', point: 'lamps.volts', other: 'logic.volts', value: 5.01 }]);
    expect(told(forward(asked.round))).toEqual(['move logic.volts', 'verdict logic.volts']);
    expect(told(back(asked.round))).toEqual(['verdict lamps.volts']);
  });

  it('comes back to what it was led past', () => {
    const { round } = forward(begun().round);
    const asked = probeSettled(round, settled('lamps.volts', 5.01), POINTS);
    const onLogic = forward(asked.round);
    expect(told(probeRead(onLogic.round, 0))).toEqual(['move lamps.volts', 'announce lamps.volts']);
  });

  it('never guesses: a value far from everything is told as it is', () => {
    const { round } = forward(begun().round);
    expect(told(probeSettled(round, settled('lamps.volts', 9), POINTS))).toEqual(['verdict lamps.volts']);
  });

  it('takes no reading of another point, and none twice', () => {
    const { round } = begun();
    expect(told(probeSettled(round, settled('logic.volts', 5), POINTS))).toEqual([]);
    const once = probeSettled(round, settled('reservoir.volts', 18.7), POINTS);
    expect(told(probeSettled(once.round, settled('reservoir.volts', 18.9), POINTS))).toEqual([]);
  });

  it('says when it is through, and goes back from there', () => {
    let now = begun();
    for (let i = 0; i < 3; i += 1) now = forward(now.round);
    expect(told(now)).toEqual(['finished']);
    expect(told(forward(now.round))).toEqual([]);
    expect(told(back(now.round))).toEqual(['move logic.volts', 'announce logic.volts']);
  });
});

describe('another point', () => {
  it('is never one of another unit, nor one that is done', () => {
    const hot = settled('lamps.volts', 52);
    expect(fitsBetter(hot, { points: [...ORDER, 'logic.case'], done: [] }, POINTS)).toBeNull();
    const five = settled('lamps.volts', 5.01);
    expect(fitsBetter(five, { points: ORDER, done: ['logic.volts'] }, POINTS)).toBeNull();
  });

  it('is never offered for a value inside its own band (fast-check, seed 60)', () => {
    const property = fc.property(
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.constantFrom(...ORDER),
      (share, id) => {
        const { low, high } = POINTS.find((one) => one.id === id)!;
        const value = low + share * (high - low);
        expect(fitsBetter(settled(id, value), { points: ORDER, done: [] }, POINTS)).toBeNull();
      },
    );
    fc.assert(property, { seed: 60 });
  });
});

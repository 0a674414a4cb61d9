import { describe, expect, it } from 'vitest';
import { CASE_RATING, instrument, probe, reading, Watched } from './cabin.js';

const HEADING = 'heading-over-limit:logic.case';
const OVER = 'over-limit:logic.case';
const STUCK = 'stuck-reading:logic.case';
const LIFTED = 'sensor-lifted:logic.case';

/** Twenty seconds of rest at 25 degrees, then warming: rise·(1 - exp(-t/tau)), closed form of a lumped body. */
function warming(rise: number, tau: number, untilS: number): Watched {
  const watched = new Watched().feed(
    instrument(0, 'probes', 'reading'),
    probe(0, 'probes t1', 'logic.case'),
    probe(0, 'probes t2', null),
  );
  return warm(watched, 0, untilS, (s) => 25 + (s > 20 ? rise * (1 - Math.exp(-(s - 20) / tau)) : 0));
}

function warm(watched: Watched, fromS: number, untilS: number, celsius: (s: number) => number): Watched {
  for (let s = fromS; s <= untilS; s += 1) {
    const value = Math.round(10 * (celsius(s) + 0.1 * Math.sin(2.4 * s))) / 10;
    watched.feed(reading(1000 * s, 'probes t1', value, 'degC'), reading(1000 * s, 'probes t2', 22, 'degC'));
  }
  return watched;
}

describe('a temperature that will pass its limit', () => {
  // 25 + 110·(1 - exp(-t/200)) passes 97 degrees after 200·ln(110/38) = 212.6 s.
  const crossingS = 20 + 200 * Math.log(110 / 38);

  it('raises its alarm in the first half of the way, with the time that is left', () => {
    const watched = warming(110, 200, 150);
    const [raised] = watched.told(HEADING);
    expect(raised?.[1]).toBe('raised');
    expect(raised?.[0]).toBeLessThan(1000 * (20 + 0.5 * (crossingS - 20)));
    const cause = watched.alarm(HEADING)?.cause;
    expect(cause).toMatchObject({ kind: 'heading-over-limit', point: 'logic.case', limit: CASE_RATING });
    const left = cause?.kind === 'heading-over-limit' ? cause.inS : null;
    const [toldMs = 0] = watched.told(HEADING).at(-1) ?? [];
    const truly = crossingS - toldMs / 1000;
    expect(left?.low).toBeLessThan(truly);
    expect(left?.high).toBeGreaterThan(truly);
  });

  it('becomes urgent when little time is left', () => {
    const watched = warming(110, 400, 430);
    expect(watched.told(HEADING).map(([, change]) => change)).toEqual(['raised', 'worse']);
    expect(watched.alarm(HEADING)?.priority).toBe('high');
  });

  it('is explained by the limit once that is passed', () => {
    const watched = warming(110, 200, 260);
    expect(watched.alarm(OVER)?.active).toBe(true);
    expect(watched.alarm(HEADING)?.suppressedBy).toEqual([OVER]);
  });

  it('returns when the supply is switched off in time', () => {
    const watched = warming(110, 200, 140);
    const at = 25 + 110 * (1 - Math.exp(-120 / 200));
    warm(watched, 141, 400, (s) => 25 + (at - 25) * Math.exp(-(s - 140) / 200));
    expect(watched.alarm(HEADING)?.active).toBe(false);
    expect(
      watched.effects.some((effect) => effect.kind === 'forecast' && effect.change === 'switched-off'),
    ).toBe(true);
    expect(watched.alarm(OVER)).toBeUndefined();
  });
});

it('a temperature that settles well under its limit raises nothing', () => {
  const watched = warming(40, 200, 1500);
  expect(watched.told(HEADING)).toEqual([]);
  const point = watched.state.points.find(({ id }) => id === 'logic.case');
  expect(point?.forecast?.settled.typical).toBeCloseTo(65, 0);
});

it('a probe that comes off is told within half a minute, and not taken for a part that cools', () => {
  const watched = warming(60, 300, 900);
  // A bead in air follows with some ten seconds (common practice).
  const hot = 25 + 60 * (1 - Math.exp(-880 / 300));
  warm(watched, 901, 960, (s) => 25 + (hot - 25) * Math.exp(-(s - 900) / 10));
  const [raised] = watched.told(LIFTED);
  expect(raised?.[1]).toBe('raised');
  expect((raised?.[0] ?? 0) / 1000).toBeLessThan(930);
});

it('a fall while the supply was off and on again says nothing about the probe', () => {
  const hot = 25 + 60 * (1 - Math.exp(-880 / 300));
  const fall = (s: number): number => 25 + (hot - 25) * Math.exp(-(s - 900) / 10);
  const lifted = (volts: number): Watched => {
    const watched = warming(60, 300, 900).feed(probe(900_000, 'board raw', 'reservoir.volts'));
    for (let s = 901; s <= 960; s += 1)
      warm(watched.feed(reading(1000 * s, 'board raw', s < 908 ? volts : 20)), s, s, fall);
    return watched;
  };
  expect(
    lifted(20)
      .told(LIFTED)
      .map(([, change]) => change),
  ).toEqual(['raised']);
  expect(lifted(0).told(LIFTED)).toEqual([]);
});

it('a reading that freezes while the part warms raises an alarm, and returns it once it moves', () => {
  const curve = (s: number): number => 25 + 60 * (1 - Math.exp(-(s - 20) / 300));
  const watched = warming(60, 300, 120);
  for (let s = 121; s <= 180; s += 1) watched.feed(reading(1000 * s, 'probes t1', 42.2, 'degC'));
  expect(watched.told(STUCK).map(([, change]) => change)).toEqual(['raised']);
  expect(watched.alarm(STUCK)?.cause).toMatchObject({ kind: 'stuck-reading', channel: 't1', value: 42.2 });
  warm(watched, 181, 240, curve);
  expect(watched.alarm(STUCK)?.active ?? false).toBe(false);
});

it('a probe that moves takes nothing of the old place with it', () => {
  const watched = warming(110, 200, 120);
  watched.feed(probe(121_000, 'probes t1', null), probe(122_000, 'probes t1', 'logic.case'));
  expect(watched.state.points.find(({ id }) => id === 'logic.case')).toMatchObject({
    following: null,
    forecast: null,
  });
});

import { expect, it } from 'vitest';
import { TONE_PATTERNS } from '../../web/tone-patterns.js';

it('sounds more often and with more pulses the more urgent', () => {
  const { high, medium, low } = TONE_PATTERNS;
  expect(high.pulses.length).toBeGreaterThan(medium.pulses.length);
  expect(medium.pulses.length).toBeGreaterThan(low.pulses.length);
  expect(high.repeatEveryS).toBeLessThan(medium.repeatEveryS);
  expect(medium.repeatEveryS).toBeLessThan(low.repeatEveryS);
});

it('ends every burst before the next one begins', () => {
  for (const { pulses, repeatEveryS } of Object.values(TONE_PATTERNS)) {
    const ends = pulses.map((pulse) => pulse.atS + pulse.lengthS);
    pulses.slice(1).forEach((pulse, index) => expect(pulse.atS).toBeGreaterThan(ends[index]!));
    expect(Math.max(...ends)).toBeLessThan(repeatEveryS);
  }
});

it('repeats alarms until they are acknowledged, the lost bench a few times', () => {
  expect(
    [TONE_PATTERNS.high, TONE_PATTERNS.medium, TONE_PATTERNS.low].map((tone) => tone.mostBursts),
  ).toEqual([undefined, undefined, undefined]);
  expect(TONE_PATTERNS['not-live'].mostBursts).toBe(5);
});

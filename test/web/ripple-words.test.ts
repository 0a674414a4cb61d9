import { describe, expect, it } from 'vitest';
import {
  noRippleWords,
  restSentence,
  rippleBars,
  rippleDoubts,
  rippleSentence,
} from '../../web/ripple-words.js';
import { BOTH_HALVES } from './captures.js';
import { POINTS } from './signal-cabin.js';

const ripplePoint = POINTS.find(({ id }) => id === 'reservoir.ripple');
const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

describe('the bars of a ripple', () => {
  it('of a full-wave rectifier stand at twice the mains: both halves conduct (common practice)', () => {
    const bars = rippleBars(BOTH_HALVES, 'bridge');
    expect(bars.map(({ title }) => plain(title))).toEqual(['50 Hz', '100 Hz', '200 Hz']);
    expect(bars[1]).toMatchObject({ share: 1, words: 'both halves conduct' });
    expect(bars[1]?.volts).toBeCloseTo(0.88, 9);
  });

  it('with a diode open stand at the mains frequency: one half is missing (common practice)', () => {
    const [first] = rippleBars({ ...BOTH_HALVES, atMains: 0.9, halves: 'one' }, 'bridge');
    expect(first?.share).toBe(1);
    expect(first?.words).toMatch(/^one half is missing/);
  });

  it('of a half-wave rectifier stand there as they should', () => {
    const [first] = rippleBars({ ...BOTH_HALVES, atMains: 0.9, halves: 'one' }, 'half-wave');
    expect(first?.words).toBe('one half conducts, as this rectifier should');
  });

  it('of a 60 Hz mains are named for it', () => {
    const bars = rippleBars({ ...BOTH_HALVES, mainsHertz: 59.98 }, 'bridge');
    expect(bars.map(({ title }) => plain(title))).toEqual(['60 Hz', '120 Hz', '240 Hz']);
  });
});

describe('the words of a ripple', () => {
  it('give its size beside what was predicted', () => {
    expect(plain(rippleSentence(BOTH_HALVES, ripplePoint))).toBe(
      'Ripple 1.16 V peak to peak, predicted 0.94 to 1.52 V pp.',
    );
    expect(plain(rippleSentence({ ...BOTH_HALVES, clipped: { low: 0, high: 0.1 } }, undefined))).toBe(
      'Ripple at least 1.16 V peak to peak.',
    );
  });

  it('tell an oscillation and where it is', () => {
    const rest = { peakToPeak: 0.3, rms: 0.1, oscillation: { hertz: 1_230_000, amplitude: 0.1 } };
    expect(plain(restSentence({ ...BOTH_HALVES, rest }))).toMatch(
      /300 mV peak to peak, an oscillation at 1.23 MHz/,
    );
    expect(plain(restSentence(BOTH_HALVES))).toBe('Everything else 12.0 mV peak to peak: noise.');
  });

  it('say what makes them unsure', () => {
    expect(rippleDoubts(BOTH_HALVES)).toEqual([]);
    const coarse = { ...BOTH_HALVES.resolution, coarse: true };
    expect(rippleDoubts({ ...BOTH_HALVES, clipped: { low: 0.1, high: 0 }, resolution: coarse })).toHaveLength(
      2,
    );
  });

  it('say why there are none, and what to change', () => {
    expect(noRippleWords({ kind: 'too-short', periods: 1.2, periodsNeeded: 2 })).toMatch(
      /1\.2 mains periods of the 2 .* slower/,
    );
    expect(noRippleWords({ kind: 'too-slow', samplesPerPeriod: 9, samplesNeeded: 20 })).toMatch(
      /faster time base/,
    );
    expect(noRippleWords({ kind: 'grounded' })).toMatch(/ground/);
  });
});

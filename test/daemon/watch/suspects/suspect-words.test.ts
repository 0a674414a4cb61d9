import { describe, expect, it } from 'vitest';
import type { NextPoint } from '../../../../daemon/watch/suspects/next-point.js';
import { alikeWords, nextWords } from '../../../../daemon/watch/suspects/suspect-words.js';

const split = (fault: string, title: string, reads: number) => ({ fault, about: '', title, reads });
const AMPS: NextPoint = {
  point: 'transformer.amps',
  unit: 'Arms',
  gainBits: 0.5,
  splits: [split('healthy', 'nothing is wrong', 1.1), split('diode-open', 'one diode is open', 1.4)],
};
const CASE: NextPoint = {
  point: 'lamps.case',
  unit: 'degC',
  gainBits: 0.4,
  splits: [split('healthy', 'nothing is wrong', 44), split('heatsink-loose', 'it sits loose', 58)],
};
const words = (next: NextPoint) =>
  nextWords(next, (point) => (point === 'lamps.case' ? 'lamps regulator case' : 'winding current'));

describe('what to measure next', () => {
  it('says with what, by hand where a person reads it', () => {
    const clamp = { instrument: 'clamp', channel: 'amps', isTyped: false };
    expect(words({ ...AMPS, way: clamp })).toBe(
      'Measure winding current with clamp amps next: about 1.10 A RMS if nothing is wrong, 1.40 A RMS if one diode is open.',
    );
    const byHand = { instrument: 'meter', channel: 'lamps.case', isTyped: true };
    expect(words({ ...CASE, way: byHand })).toMatch(/^Measure lamps regulator case by hand \(meter\) next: /);
  });

  it('says what it takes where nothing on the bench measures it', () => {
    expect(words({ ...AMPS, way: null })).toMatch(
      /^Nothing on this bench measures winding current\. With an AC clamp meter .* it would be about 1\.10 A RMS if/,
    );
    const valley = { ...CASE, point: 'reservoir.valley', unit: 'V', way: null } as const;
    expect(words(valley)).toMatch(/ With a scope it would be about /);
  });

  it('says which load has to be on', () => {
    expect(words({ ...CASE, load: 'typical' })).toBe(
      'More shows with typical load on: then measure lamps regulator case, about 44 °C if nothing is wrong, 58 °C if it sits loose.',
    );
  });
});

it('what a better bench would tell apart is not said to be the same', () => {
  const alike = [{ fault: 'reservoir-dried', about: '', title: 'the reservoir has dried up' }];
  const action = { switchOff: true, words: '' };
  const suspect = {
    fault: 'diode-open',
    about: '',
    title: '',
    probability: 0.6,
    evidence: [],
    action,
    alike,
  };
  expect(alikeWords(suspect, { ...AMPS, way: null })).toBe(
    'Either this or: the reservoir has dried up. Nothing that this bench measures tells them apart.',
  );
});

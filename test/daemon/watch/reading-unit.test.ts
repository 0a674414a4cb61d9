import { describe, expect, it } from 'vitest';
import { inUnitOf } from '../../../daemon/watch/reading-unit.js';
import { instrument, probe, reading, Watched } from './cabin.js';

const OUTSIDE = 'outside-prediction:reservoir.ripple';

/** The board on the reservoir's ripple, of which 0.8 to 1.4 V peak to peak are predicted; it shows volts RMS. */
function rippleOf(vrms: number): Watched {
  const watched = new Watched().feed(
    instrument(0, 'board', 'reading'),
    instrument(0, 'meter', 'reading'),
    probe(0, 'meter volts', 'logic.volts'),
    probe(0, 'board raw', 'reservoir.ripple'),
  );
  for (let atMs = 500; atMs <= 6000; atMs += 500) {
    watched.feed(reading(atMs, 'meter volts', 5), reading(atMs, 'board raw', vrms, 'Vrms'));
  }
  return watched;
}

describe('a ripple that an AC range shows', () => {
  // Handbooks: the RMS of straight slopes is their amplitude over the root of three, so 1 V is 3.46 V peak to peak.
  it('is judged as the peak-to-peak of a sawtooth', () => {
    const [value, guard] = [inUnitOf('Vpp', { value: 1, unit: 'Vrms', guard: 0.01 })]
      .map((one) => one!)
      .flatMap((one) => [one.value, one.guard]);
    expect(value).toBeCloseTo(2 * Math.sqrt(3), 9);
    // Up to a tenth less for a rounded shape; a sine's 2.83 V is the other end (common practice).
    expect(guard).toBeCloseTo(0.0346 + 0.346, 3);
  });

  it('inside its prediction raises nothing', () => {
    const watched = rippleOf(0.32);
    expect(watched.verdicts('reservoir.ripple')).toEqual(['inside']);
    expect(watched.told(OUTSIDE)).toEqual([]);
  });

  it('well over it raises the alarm', () => {
    const watched = rippleOf(1.09);
    expect(watched.verdicts('reservoir.ripple')).toEqual(['outside']);
    expect(watched.told(OUTSIDE)).toHaveLength(1);
  });
});

it('volts are never taken for degrees', () => {
  expect(inUnitOf('degC', { value: 1, unit: 'V', guard: 0 })).toBeNull();
  expect(inUnitOf('V', { value: 1, unit: 'Vrms', guard: 0 })).toBeNull();
});

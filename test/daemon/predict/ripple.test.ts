import { describe, expect, it } from 'vitest';
import { rippleAtMost, sawtoothRms } from '../../../daemon/predict/ripple.js';

describe('the textbook ripple, an upper bound', () => {
  it('feeds the load from the capacitor alone for the whole half cycle', () => {
    // Textbook exercise: 60 Hz full wave, 0.154 A, 1283 uF for 1 V peak to peak.
    expect(rippleAtMost(0.154, 60, 1283e-6)).toBeCloseTo(1, 2);
  });

  it('half wave, as a full wave of half the frequency', () => {
    // Exam answer: 50 Hz half wave, 30 V over 220 ohm, 680 uF: 4.01 V peak to peak.
    expect(rippleAtMost(30 / 220, 25, 680e-6)).toBeCloseTo(4.01, 2);
  });

  // Fardo and Patrick, Electrical Power Systems Technology, p. 196: Vr(rms) = 2.4 I / C, I in mA, C in uF, at 60 Hz.
  it.each([
    [0.8, 300e-6, 6.4],
    [0.95, 4560e-6, 0.5],
  ])('%d A on %d F at 60 Hz: %d V RMS', (amps, farads, rms) => {
    expect(Math.abs(sawtoothRms(rippleAtMost(amps, 60, farads)) / rms - 1)).toBeLessThan(0.01);
  });

  // Fardo and Patrick p. 197: Vdc = Vm - 4.16 I / C; 28.2 V, 500 uF, 300 mA, 60 Hz give 25.7 V.
  it('half of it lies below the crest', () => {
    expect(28.2 - rippleAtMost(0.3, 60, 500e-6) / 2).toBeCloseTo(25.7, 2);
  });

  it('RMS of a sawtooth', () => {
    // Textbook: 1.3 V peak to peak is 0.375 V RMS.
    expect(sawtoothRms(1.3)).toBeCloseTo(0.375, 3);
  });
});

import { expect, test } from 'vitest';
import {
  emptyWaveformFigures,
  evenWaveform,
  measureWaveform,
  pinExtremes,
  waveformAt,
} from '../../../../daemon/predict/follower/periodic-waveform.js';

// Sawtooth and triangle: RMS is peak to peak over 2√3 (textbook); 1.3 Vpp gives 0.375 Vrms (printed example).
test('measures a triangle of 1.3 Vpp', () => {
  const figures = emptyWaveformFigures();
  const wave = evenWaveform(Float64Array.from([10, 11.3]), 0.01);
  measureWaveform(wave.volts, wave.spacings, figures);
  expect(figures.meanVolts).toBeCloseTo(10.65, 12);
  expect(figures.ripplePeakToPeak).toBeCloseTo(1.3, 12);
  expect(figures.rippleRms).toBeCloseTo(0.375, 3);
});

test('uneven instants weigh by their time: a sawtooth from two samples', () => {
  const figures = emptyWaveformFigures();
  const wave = waveformAt(Float64Array.from([0, 0.002]), Float64Array.from([10, 11.3]), 0.01);
  measureWaveform(wave.volts, wave.spacings, figures);
  expect(figures.meanVolts).toBeCloseTo(10.65, 12);
  expect(figures.rippleRms).toBeCloseTo(1.3 / (2 * Math.sqrt(3)), 12);
});

test('refuses a period of nothing and instants that fall back, and says which', () => {
  expect(() => evenWaveform(new Float64Array(4), 0)).toThrow('it got 4 samples and 0 s');
  expect(() => waveformAt(Float64Array.from([0, 0.02]), new Float64Array(2), 0.01)).toThrow(
    'look at sample 1',
  );
});

test('pins the lowest sample to the valley and the highest to the peak', () => {
  const volts = Float64Array.from([10.2, 11, 11.9, 11]);
  pinExtremes(volts, 10, 12);
  expect([...volts]).toEqual([10, 11, 12, 11]);
});

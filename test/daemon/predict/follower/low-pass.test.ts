import { expect, test } from 'vitest';
import { holdBelow, periodicLowPass } from '../../../../daemon/predict/follower/low-pass.js';
import { evenWaveform } from '../../../../daemon/predict/follower/periodic-waveform.js';

const triangle = evenWaveform(Float64Array.from([10, 11, 12, 11]), 0.004);

// One straight segment of slope s from rest: x = v − sτ(1 − e^(−t/τ)) plus the start's decay (textbook ramp answer).
test('follows a ramp by the textbook answer, from sample to sample', () => {
  const output = new Float64Array(4);
  periodicLowPass(triangle, { timeConstant: 0.002, gain: 1, offset: 0 }, output);
  const decay = Math.exp(-0.5);
  const expected = 11 - 1000 * 0.002 * (1 - decay) + decay * (output[0]! - 10);
  expect(output[1]).toBeCloseTo(expected, 12);
});

// A mirror of the waveform about 11 V turns it into itself half a period later; so must its answer.
test('is periodic and keeps the symmetry of its input', () => {
  const output = new Float64Array(4);
  periodicLowPass(triangle, { timeConstant: 0.002, gain: 1, offset: 0 }, output);
  expect(output[0]! - 11).toBeCloseTo(11 - output[2]!, 12);
  expect(output[1]! - 11).toBeCloseTo(11 - output[3]!, 12);
});

test('without a time constant it is its input, scaled and shifted', () => {
  const output = new Float64Array(4);
  periodicLowPass(triangle, { timeConstant: 0, gain: 2, offset: -1 }, output);
  expect([...output]).toEqual([19, 21, 23, 21]);
});

// A time constant of 1e6 periods: the answer is the mean, less than 1e-6 of the ripple beside it.
test('a very slow one stays at the mean', () => {
  const output = new Float64Array(4);
  periodicLowPass(triangle, { timeConstant: 4000, gain: 1, offset: 0 }, output);
  for (const value of output) expect(value).toBeCloseTo(11, 5);
});

test('held below its input it meets what stepping through fifty turns reaches', () => {
  const filter = { timeConstant: 0.01, gain: 1, offset: -0.2 };
  const wave = evenWaveform(Float64Array.from([10, 11, 12, 11, 10.5]), 0.01);
  const output = new Float64Array(5);
  periodicLowPass(wave, filter, output);
  holdBelow(wave, filter, -0.1, output);
  let value = 0;
  const keep = Math.exp(-0.2);
  const lag = (1 - keep) / 0.2;
  const stepped: number[] = [];
  for (let k = 0; k < 250; k++) {
    value = Math.min(value, wave.volts[k % 5]! - 0.1);
    stepped[k % 5] = value;
    const from = wave.volts[k % 5]! - 0.2;
    const to = wave.volts[(k + 1) % 5]! - 0.2;
    value = to + keep * (value - from) - (to - from) * lag;
  }
  for (let k = 0; k < 5; k++) expect(output[k]).toBeCloseTo(stepped[k]!, 10);
});

import { expect, it } from 'vitest';
import { rangeWords, spokenValue, valueWords } from '../../../daemon/watch/value-words.js';

it.each([
  [5.02, 'V', '5.02 V'],
  [12.034, 'V', '12.03 V'],
  [231.44, 'V', '231.4 V'],
  [99.996, 'V', '100.0 V'],
  [0.9996, 'V', '1.00 V'],
  [0.0381, 'V', '38 mV'],
  [0.00381, 'V', '3.8 mV'],
  [0, 'V', '0 V'],
  [-0.00001, 'V', '0 V'],
  [-12.05, 'V', '-12.05 V'],
  [1.1, 'Vpp', '1.10 V peak to peak'],
  [0.4, 'Vrms', '400 mV RMS'],
  [0.25, 'A', '250 mA'],
  [1.234, 'Arms', '1.23 A RMS'],
  [71.3, 'degC', '71 °C'],
  [-0.3, 'degC', '0 °C'],
  [4700, 'ohm', '4.70 kΩ'],
  [240, 'ohm', '240 Ω'],
  [999.6, 'ohm', '1.00 kΩ'],
  [2_200_000, 'ohm', '2.20 MΩ'],
  [50.02, 'Hz', '50.0 Hz'],
  [1.25, 'W', '1.25 W'],
] as const)('%d in %s is written %s', (value, unit, written) => {
  expect(valueWords(value, unit)).toBe(written);
});

it.each([
  [0.957, 1.45, 'Vpp', '0.96 to 1.45 V peak to peak'],
  [0.0011, 0.0042, 'Vpp', '1.1 to 4.2 mV peak to peak'],
  [4.8, 5.2, 'V', '4.80 to 5.20 V'],
  [9.99, 101, 'V', '10.0 to 101.0 V'],
  [-12.5, -0.9, 'V', '-12.50 to -0.90 V'],
  [0, 0.3, 'A', '0 to 300 mA'],
  [950, 4700, 'ohm', '0.95 to 4.70 kΩ'],
  [30.4, 44.2, 'degC', '30 to 44 °C'],
] as const)('%d to %d in %s say the unit once: %s', (low, high, unit, written) => {
  expect(rangeWords(low, high, unit)).toBe(written);
});

it.each([
  [104, 'degC', 'one hundred and four degrees'],
  [1, 'degC', 'one degree'],
  [5.02, 'V', 'five point zero two volts'],
  [0.038, 'V', 'thirty-eight millivolts'],
  [0.25, 'A', 'two hundred and fifty milliamps'],
  [1.1, 'Vpp', 'one point one zero volts peak to peak'],
] as const)('%d in %s is said %s', (value, unit, said) => {
  expect(spokenValue(value, unit)).toBe(said);
});

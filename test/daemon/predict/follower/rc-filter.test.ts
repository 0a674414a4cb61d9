import { expect, test } from 'vitest';
import { evenWaveform } from '../../../../daemon/predict/follower/periodic-waveform.js';
import type { PeriodicWaveform } from '../../../../daemon/predict/follower/periodic-waveform.js';
import { emptyRcFilterFigures, solveRcFilter } from '../../../../daemon/predict/follower/rc-filter.js';
import type { OutputLoad, RcFilter, RcFilterFigures } from '../../../../daemon/predict/follower/rc-filter.js';

function sine(hertz: number, mean: number, amplitude: number): PeriodicWaveform {
  const count = 512;
  const volts = Float64Array.from(
    { length: count },
    (_, k) => mean + amplitude * Math.sin((2 * Math.PI * k) / count),
  );
  return evenWaveform(volts, 1 / hertz);
}

function filtered(wave: PeriodicWaveform, filter: RcFilter, load: OutputLoad): RcFilterFigures {
  const figures = emptyRcFilterFigures();
  solveRcFilter(wave, filter, load, new Float64Array(wave.volts.length), figures);
  return figures;
}

const unloaded = { amps: 0, ohms: Infinity };

// 1/√(1 + (2πfRC)²), the first-order law of every circuit textbook; figures computed by hand from it.
test.each([
  [1000, 1000e-6, 100, 0.001592],
  [1000, 100e-6, 100, 0.01591],
  [470, 470e-6, 120, 0.006004],
  [2200, 220e-6, 120, 0.00274],
])('%d ohm with %d F at %d Hz passes %d of the ripple', (resistance, capacitance, hertz, share) => {
  const figures = filtered(sine(hertz, 20, 1), { resistance, capacitance, esr: 0 }, unloaded);
  expect(Math.abs(figures.ripplePeakToPeak / 2 / share - 1)).toBeLessThan(5e-4);
  expect(Math.abs(figures.rippleRms / (share / Math.SQRT2) - 1)).toBeLessThan(5e-4);
});

// |ESR + 1/jωC| / |R + ESR + 1/jωC| at 100 Hz for 10 ohm, 1000 µF, 0.5 ohm, from the complex divider.
test('the capacitor’s series resistance is a floor', () => {
  const reactance = 1 / (2 * Math.PI * 100 * 1e-3);
  const share = Math.hypot(0.5, reactance) / Math.hypot(10.5, reactance);
  const figures = filtered(sine(100, 20, 1), { resistance: 10, capacitance: 1e-3, esr: 0.5 }, unloaded);
  expect(Math.abs(figures.ripplePeakToPeak / 2 / share - 1)).toBeLessThan(5e-4);
});

// Ohm's law.
test('a steady current drops R·I, a resistive load divides', () => {
  const current = filtered(
    sine(100, 20, 1),
    { resistance: 10, capacitance: 1e-3, esr: 0 },
    { amps: 0.2, ohms: Infinity },
  );
  expect(current.meanVolts).toBeCloseTo(18, 9);
  expect(current.reservoirAmps).toBeCloseTo(0.2, 9);
  const divided = filtered(
    sine(100, 20, 1),
    { resistance: 10, capacitance: 1e-3, esr: 0 },
    { amps: 0, ohms: 90 },
  );
  expect(divided.meanVolts).toBeCloseTo(18, 9);
  expect(divided.timeConstant).toBeCloseTo(9e-3, 12);
});

// I²R for the steady part, (ripple RMS)²/R for what the capacitor shorts.
test('heat in the resistor is that of its steady and its alternating current', () => {
  const figures = filtered(
    sine(100, 20, 1),
    { resistance: 10, capacitance: 1, esr: 0 },
    { amps: 0.2, ohms: Infinity },
  );
  expect(figures.dissipation).toBeCloseTo(0.4 + 0.5 / 10, 4);
});

test('a load that cannot be fed leaves zero volts, said as starved', () => {
  const figures = filtered(
    sine(100, 5, 1),
    { resistance: 10, capacitance: 1e-3, esr: 0 },
    { amps: 2, ohms: Infinity },
  );
  expect(figures.starved).toBe(true);
  expect(figures.valleyVolts).toBe(0);
});

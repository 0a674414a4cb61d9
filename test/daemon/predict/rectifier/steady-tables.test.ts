import { describe, expect, it } from 'vitest';
import type { RectifierCircuit } from '../../../../daemon/predict/rectifier/circuit.js';
import { solveRectifier } from '../../../../daemon/predict/rectifier/steady-state.js';
import { idealDiode } from './circuits.js';
import { steadyTables } from './steady-tables.js';

const EMF = 1;
const LOAD = 100;

function circuitOf(wave: 'full' | 'half', sourcePercent: number, omegaCR: number): RectifierCircuit {
  return {
    kind: wave === 'full' ? 'centre-tapped' : 'half-wave',
    oneDiodeOpen: false,
    hertz: 50,
    emfPeak: EMF,
    seriesResistance: (LOAD * sourcePercent) / 100,
    diode: idealDiode,
    capacitance: omegaCR / (2 * Math.PI * 50 * LOAD),
    capacitorResistance: 0,
    loadCurrent: 0,
    loadResistance: LOAD,
  };
}

describe.each(steadyTables)(
  'exact table $id, $wave wave, Rs/R = $sourcePercent %',
  ({ wave, sourcePercent, rows }) => {
    it.each(rows)(
      'omega·C·R = %d: every printed digit',
      (omegaCR, mean, rmsPercent, peakToPeak, peak, rms, degrees) => {
        const solved = solveRectifier(circuitOf(wave, sourcePercent, omegaCR));
        const current = solved.rectifiedMeanCurrent;
        // Half a unit of the last printed digit, and a hair for the rounding of the printed value itself.
        expect(Math.abs(solved.meanVolts / EMF - mean)).toBeLessThan(0.51e-4);
        expect(Math.abs((100 * solved.rippleRms) / solved.meanVolts - rmsPercent)).toBeLessThan(0.51e-3);
        expect(Math.abs(solved.ripplePeakToPeak / EMF - peakToPeak)).toBeLessThan(0.51e-4);
        expect(Math.abs(solved.rectifiedPeakCurrent / current - peak)).toBeLessThan(0.51e-2);
        expect(Math.abs(solved.rectifiedRmsCurrent / current - rms)).toBeLessThan(0.51e-3);
        expect(Math.abs(solved.conductionAngleDegrees - degrees)).toBeLessThan(0.051);
      },
    );
  },
);

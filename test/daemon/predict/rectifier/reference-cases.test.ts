import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Diode, RectifierCircuit, RectifierKind } from '../../../../daemon/predict/rectifier/circuit.js';
import { createWorkspace } from '../../../../daemon/predict/rectifier/pieces.js';
import type { SteadyState } from '../../../../daemon/predict/rectifier/steady-state.js';
import { solveRectifier } from '../../../../daemon/predict/rectifier/steady-state.js';

// Computed outside with general-purpose integrators: test/data/reference-cases/README.md says how.
type Numbers = Record<string, number>;
interface Case {
  readonly id: string;
  readonly inputs: Numbers & {
    rectifier: 'bridge' | 'centre_tap' | 'half_wave';
    load_resistance_ohm: number | null;
  };
  readonly answers: { readonly fixed_drop: Numbers; readonly shockley: Numbers };
}

const file = new URL('../../../data/reference-cases/rectifier_cases.json', import.meta.url);
const { cases } = JSON.parse(readFileSync(file, 'utf8')) as { cases: Case[] };
const kinds: Record<string, RectifierKind> = {
  bridge: 'bridge',
  centre_tap: 'centre-tapped',
  half_wave: 'half-wave',
};
const space = createWorkspace();

function diodeOf(inputs: Numbers, law: Diode['law']): Diode {
  if (law === 'fixed-drop') {
    return {
      law,
      forwardDrop: inputs['diode_fixed_forward_drop_V']!,
      slopeResistance: inputs['diode_fixed_slope_resistance_ohm']!,
    };
  }
  return {
    law,
    saturationCurrent: inputs['diode_shockley_saturation_current_A']!,
    emissionCoefficient: inputs['diode_shockley_ideality_n']!,
    thermalVoltage: inputs['diode_shockley_thermal_voltage_V']!,
    seriesResistance: inputs['diode_shockley_series_resistance_ohm']!,
  };
}

function circuitOf(inputs: Case['inputs'], law: Diode['law']): RectifierCircuit {
  return {
    kind: kinds[inputs.rectifier]!,
    oneDiodeOpen: Boolean(inputs['one_diode_open']),
    hertz: inputs['mains_frequency_Hz']!,
    emfPeak: inputs['derived_noload_peak_V']!,
    seriesResistance: inputs['derived_total_series_resistance_ohm']!,
    diode: diodeOf(inputs, law),
    capacitance: inputs['reservoir_capacitance_F']!,
    capacitorResistance: inputs['reservoir_esr_ohm']!,
    loadCurrent: inputs['reservoir_total_constant_current_A']!,
    loadResistance: inputs.load_resistance_ohm ?? Infinity,
  };
}

/** Ours, the file's, and the largest relative difference allowed. */
const compared: [keyof SteadyState, string, number][] = [
  ['meanVolts', 'v_mean_V', 5e-5],
  ['valleyVolts', 'v_min_V', 5e-5],
  ['peakVolts', 'v_max_V', 5e-5],
  ['ripplePeakToPeak', 'ripple_pp_V', 2e-4],
  ['rippleRms', 'ripple_rms_V', 2e-4],
  ['conductionAngleDegrees', 'conduction_angle_deg', 2e-4],
  ['rectifiedMeanCurrent', 'rect_current_mean_A', 2e-4],
  ['rectifiedRmsCurrent', 'rect_current_rms_A', 2e-4],
  ['rectifiedPeakCurrent', 'peak_current_A', 2e-4],
  ['capacitorRmsCurrent', 'cap_ripple_current_rms_A', 2e-4],
  ['secondaryRmsCurrent', 'secondary_winding_current_rms_A', 2e-4],
  ['diodeMeanCurrent', 'each_conducting_diode_current_mean_A', 2e-4],
  ['diodeRmsCurrent', 'each_conducting_diode_current_rms_A', 2e-4],
  ['diodeDissipation', 'each_conducting_diode_dissipation_W', 2e-4],
  ['allDiodesDissipation', 'diode_dissipation_total_W', 2e-4],
  ['seriesDissipation', 'source_resistance_dissipation_W', 2e-4],
];

describe.each(cases)('reference circuit $id', ({ inputs, answers }) => {
  it.each(['fixed-drop', 'shockley'] as const)(
    '%s diodes: every answer within 0.02 %, volts within 0.005 %',
    (law) => {
      const solved = solveRectifier(circuitOf(inputs, law), space);
      const answer = answers[law === 'shockley' ? 'shockley' : 'fixed_drop'];
      for (const [name, theirs, allowed] of compared) {
        expect(Math.abs(Number(solved[name]) / answer[theirs]! - 1), name).toBeLessThan(allowed);
      }
      expect(solved.starved).toBe(false);
    },
  );
});

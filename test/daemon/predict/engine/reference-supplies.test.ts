import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { partFigures } from '../../../../daemon/predict/engine/figures.js';
import { supplyModel } from '../../../../daemon/predict/engine/model.js';
import { certain } from '../../../../daemon/predict/engine/parameters.js';
import type { SupplyDescription } from '../../../../daemon/predict/engine/supply.js';
import type { Diode } from '../../../../daemon/predict/rectifier/circuit.js';
import { cooledBy, drawing, rail, signalCabin, typicalResults } from './supplies.js';

// Computed outside with general-purpose integrators: test/data/reference-cases/README.md says how.
type Numbers = Readonly<Record<string, number>>;
interface StoredRectifier {
  readonly id: string;
  readonly inputs: Numbers & { readonly rectifier: string; readonly load_resistance_ohm: number | null };
  readonly answers: Readonly<Record<string, Numbers>>;
}

function stored<T>(file: string): readonly T[] {
  const url = new URL(`../../../data/reference-cases/${file}`, import.meta.url);
  return (JSON.parse(readFileSync(url, 'utf8')) as { cases: T[] }).cases;
}

const KINDS = { bridge: 'bridge', centre_tap: 'centre-tap', half_wave: 'half-wave' } as const;

function fixedDrop(inputs: Numbers): Diode {
  return {
    law: 'fixed-drop',
    forwardDrop: inputs['diode_fixed_forward_drop_V']!,
    slopeResistance: inputs['diode_fixed_slope_resistance_ohm']!,
  };
}

function shockley(inputs: Numbers): Diode {
  return {
    law: 'shockley',
    saturationCurrent: inputs['diode_shockley_saturation_current_A']!,
    emissionCoefficient: inputs['diode_shockley_ideality_n']!,
    thermalVoltage: inputs['diode_shockley_thermal_voltage_V']!,
    seriesResistance: inputs['diode_shockley_series_resistance_ohm']!,
  };
}

/** The circuit from its rated data, its whole load straight at the reservoir. */
function supplyOf({ inputs }: StoredRectifier, diode: Diode): SupplyDescription {
  const centreTapped = inputs.rectifier === 'centre_tap';
  const known = (name: string, value: number) => certain(name, value);
  return signalCabin({
    mains: { ratedVolts: 230, volts: known('mains', 230), hertz: inputs['mains_frequency_Hz']! },
    transformer: {
      windings: centreTapped ? 'centre-tapped' : 'single',
      secondaryVolts: known('secondary', inputs['transformer_rated_secondary_rms_V']!),
      ratedAmps: inputs['derived_rated_current_A']!,
      regulation: known('regulation', inputs['transformer_regulation_fraction']!),
      // The reference circuits rate each half by the whole VA and state its ohms so.
      ohmsShare: 1,
      wiringOhms: inputs['extra_series_resistance_ohm']!,
    },
    rectifier: {
      kind: KINDS[inputs.rectifier as keyof typeof KINDS],
      diode,
      dropOffset: known('offset', 0),
      oneDiodeOpen: Boolean(inputs['one_diode_open']),
    },
    reservoir: {
      farads: known('farads', inputs['reservoir_capacitance_F']!),
      esr: known('esr', inputs['reservoir_esr_ohm']!),
      bleedOhms: Infinity,
      load: drawing(
        'reservoir',
        inputs['reservoir_total_constant_current_A']!,
        inputs.load_resistance_ohm ?? Infinity,
      ),
    },
    rails: [],
  });
}

describe.each(stored<StoredRectifier>('rectifier_cases.json'))('reference circuit $id', (one) => {
  it.each(['fixed_drop', 'shockley'] as const)('%s diodes through the whole model', (law) => {
    const model = supplyModel(
      supplyOf(one, (law === 'shockley' ? shockley : fixedDrop)(one.inputs)),
      'typical',
    );
    const { transformer, rectifier, reservoir } = partFigures(model);
    const answer = one.answers[law]!;
    const compared: [number | undefined, string, number][] = [
      [reservoir?.['mean_V'], 'v_mean_V', 5e-5],
      [reservoir?.['valley_V'], 'v_min_V', 5e-5],
      [reservoir?.['ripple_Vpp'], 'ripple_pp_V', 2e-4],
      [reservoir?.['capacitor_ripple_A'], 'cap_ripple_current_rms_A', 2e-4],
      [rectifier?.['conduction_deg'], 'conduction_angle_deg', 2e-4],
      [rectifier?.['peak_current_A'], 'peak_current_A', 2e-4],
      [rectifier?.['diode_dissipation_W'], 'each_conducting_diode_dissipation_W', 2e-4],
      [transformer?.['winding_rms_A'], 'secondary_winding_current_rms_A', 2e-4],
    ];
    for (const [ours, theirs, allowed] of compared) {
      expect(Math.abs((ours ?? NaN) / answer[theirs]! - 1), theirs).toBeLessThan(allowed);
    }
  });
});

describe('reference regulators behind their reservoirs', () => {
  const regulated = stored<StoredRectifier>('rectifier_cases.json').filter(
    ({ answers }) => answers['regulator_on_fixed_drop'] !== undefined,
  );

  it.each(regulated)('$id: mean, ripple, heat and headroom of the rail', (one) => {
    const { inputs } = one;
    const answer = one.answers['regulator_on_fixed_drop']!;
    const volts = answer['vout_set_V']!;
    const supply = supplyOf(one, fixedDrop(inputs));
    const results = typicalResults({
      ...supply,
      reservoir: { ...supply.reservoir, load: drawing('reservoir', 0) },
      rails: [
        rail('out', {
          load: drawing('out', inputs['load_constant_current_A']!),
          regulator: {
            kind: 'fixed',
            volts: certain('out.volts', volts),
            quiescentAmps: certain('out.groundAmps', inputs['regulator_quiescent_current_A']!),
            rejection_dB: certain('out.rejection_dB', inputs['regulator_ripple_rejection_dB']!),
            // The reference has one dropout; our law's slopes are undone by stating it where they cancel.
            dropout: dropoutOf(inputs),
            minimumLoadAmps: 0,
            currentLimit: [],
            junctionLimit: 125,
          },
          cooling: { ...cooledBy('out', null), package: coldPackage() },
        }),
      ],
    });
    expect(results['out.volts']).toBeCloseTo(answer['vout_mean_V']!, 2);
    expect(results['out.dissipation']! / answer['dissipation_W']!).toBeCloseTo(1, 2);
    expect(results['out.headroom']! - answer['headroom_at_valley_V']!).toBeCloseTo(0, 2);
    expect(Math.abs(results['out.ripple']! - answer['vout_ripple_pp_V']!)).toBeLessThan(
      0.002 + 0.02 * answer['vout_ripple_pp_V']!,
    );
  });
});

function dropoutOf(inputs: Numbers) {
  const amps = inputs['load_constant_current_A']!;
  const roomKelvin = -0.0031 * (27 - 25);
  const volts = inputs['regulator_dropout_V']! - roomKelvin;
  return { volts: certain('out.dropout', volts), atAmps: amps, family: 'darlington' as const };
}

/** So little K/W that the junction stays at the air's 27 degrees C. */
function coldPackage() {
  return {
    junctionToCase: certain('out.junctionCase', 1e-9),
    junctionToAir: certain('out.junctionAir', 1e-6),
    junctionCapacity: 0.05,
    caseCapacity: certain('out.caseCapacity', 1.5),
  };
}

interface StoredMultiplier {
  readonly id: string;
  readonly inputs: Numbers & { readonly device: 'bipolar' | 'mosfet' };
  readonly answers: Readonly<Record<string, Numbers>>;
}

function multiplierSupply({ inputs }: StoredMultiplier, kind: 'bipolar' | 'darlington' | 'mosfet') {
  const load = drawing('filter', inputs['load_constant_current_A']!);
  const known = (name: string, key: string) => certain(name, inputs[key]!);
  return signalCabin({
    mains: { ratedVolts: 230, volts: certain('mains', 230), hertz: inputs['mains_frequency_Hz']! },
    transformer: {
      windings: 'single',
      secondaryVolts: known('secondary', 'noload_secondary_rms_V'),
      ratedAmps: 1,
      regulation: certain('regulation', 0),
      ohmsShare: 1,
      wiringOhms: inputs['source_resistance_ohm']!,
    },
    rectifier: {
      kind: 'bridge',
      diode: fixedDrop(inputs),
      dropOffset: certain('offset', 0),
      oneDiodeOpen: false,
    },
    reservoir: {
      farads: known('farads', 'reservoir_capacitance_F'),
      esr: known('esr', 'reservoir_esr_ohm'),
      bleedOhms: Infinity,
      load: drawing('reservoir', 0),
    },
    filter: {
      kind: 'multiplier',
      follower:
        kind === 'mosfet'
          ? { kind, gateSourceVolts: known('vgs', 'vgs_V'), onResistance: known('rds', 'rds_on_ohm') }
          : {
              kind,
              // The clamp answers take the base current as I / beta, not I / (beta + 1).
              beta: certain('beta', inputs['beta']! - (kind === 'darlington' ? 1 : 0)),
              baseEmitterVolts: known('vbe', 'vbe_V'),
              saturationVolts: known('vce', 'vce_sat_V'),
            },
      resistance: known('base', 'base_or_gate_resistance_ohm'),
      capacitance: known('baseFarads', 'base_or_gate_capacitance_F'),
      dividerOhms: Infinity,
      load,
      cooling: cooledBy('filter', 4),
      junctionLimit: 150,
      shorted: false,
    },
    rails: [],
  });
}

describe('reference capacitance multipliers', () => {
  const LAWS = { junction: 'bipolar', clamp: 'darlington', mosfet: 'mosfet' } as const;
  const all = stored<StoredMultiplier>('multiplier_cases.json').flatMap((one) =>
    (['junction', 'clamp', 'mosfet'] as const)
      .filter((law) => one.answers[law] !== undefined)
      .map((law) => ({ one, law })),
  );

  it.each(all)('$one.id as $law: mean within 0.2 %, ripple and heat within 2 %', ({ one, law }) => {
    const results = typicalResults(multiplierSupply(one, LAWS[law]));
    const answer = one.answers[law]!;
    expect(Math.abs(results['filter.volts']! / answer['vout_mean_V']! - 1)).toBeLessThan(0.002);
    expect(Math.abs(results['filter.ripple']! / answer['vout_ripple_pp_V']! - 1)).toBeLessThan(0.02);
    expect(Math.abs(results['filter.dissipation']! / answer['pass_device_dissipation_W']! - 1)).toBeLessThan(
      0.02,
    );
  });
});

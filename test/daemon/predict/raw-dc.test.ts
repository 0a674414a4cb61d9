import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { THERMAL_VOLTS } from '../../../daemon/design/parts/diodes.js';
import { rawDc, type RawCircuit } from '../../../daemon/predict/raw-dc.js';

// Computed outside with general-purpose integrators: test/data/reference-cases/README.md says how.
type Numbers = Readonly<Record<string, number>>;
interface Case {
  readonly id: string;
  readonly inputs: Numbers & {
    readonly rectifier: string;
    readonly one_diode_open: boolean;
    readonly load_resistance_ohm: number | null;
  };
  readonly answers: { readonly shockley: Numbers };
}
const file = new URL('../../data/reference-cases/rectifier_cases.json', import.meta.url);
const { cases } = JSON.parse(readFileSync(file, 'utf8')) as { readonly cases: readonly Case[] };
const KINDS: Readonly<Record<string, RawCircuit['kind']>> = {
  bridge: 'bridge',
  centre_tap: 'centre-tapped',
  half_wave: 'half-wave',
};

function circuitOf({ inputs }: Case): RawCircuit {
  const at = (key: string) => inputs[key] ?? NaN;
  return {
    kind: KINDS[inputs.rectifier] ?? 'bridge',
    oneDiodeOpen: inputs.one_diode_open,
    peakVolts: at('derived_noload_peak_V'),
    seriesOhms: at('derived_total_series_resistance_ohm'),
    hertz: at('mains_frequency_Hz'),
    diode: {
      is: at('diode_shockley_saturation_current_A'),
      n: (at('diode_shockley_ideality_n') * at('diode_shockley_thermal_voltage_V')) / THERMAL_VOLTS,
      rs: at('diode_shockley_series_resistance_ohm'),
    },
    diodeOffset: 0,
    farads: at('reservoir_capacitance_F'),
    esr: at('reservoir_esr_ohm'),
    amps: at('reservoir_total_constant_current_A'),
    loadOhms: inputs.load_resistance_ohm ?? Infinity,
  };
}

const lampRail: RawCircuit = {
  kind: 'bridge',
  oneDiodeOpen: false,
  peakVolts: 23.76,
  seriesOhms: 0.9,
  hertz: 50,
  diode: { is: 7e-9, n: 1.8, rs: 0.04 },
  diodeOffset: 0,
  farads: 4.7e-3,
  esr: 0.05,
  amps: 0.8,
  loadOhms: Infinity,
};

describe('raw DC', () => {
  it('there are enough cases to hold it against', () => {
    expect(cases.length).toBeGreaterThanOrEqual(60);
  });

  it.each(cases.map((one) => [one.id, one] as const))(
    '%s agrees with the outside integrators',
    (_id, one) => {
      const raw = rawDc(circuitOf(one));
      const off = (value: number, key: string) => Math.abs(value / (one.answers.shockley[key] ?? NaN) - 1);
      expect(off(raw.mean, 'v_mean_V')).toBeLessThan(0.0005);
      expect(off(raw.valley, 'v_min_V')).toBeLessThan(0.0005);
      expect(off(raw.ripple, 'ripple_pp_V')).toBeLessThan(0.002);
      expect(off(raw.secondaryRms, 'secondary_winding_current_rms_A')).toBeLessThan(0.002);
    },
  );

  it('unloaded it stands at the crest less next to nothing', () => {
    const raw = rawDc({ ...lampRail, amps: 0 });
    expect(raw.mean).toBeGreaterThan(23.76 - 1.2);
    expect(raw.mean).toBeLessThan(23.76);
    expect(raw.ripple).toBeLessThan(0.001);
  });

  it('says when the winding cannot deliver', () => {
    // 2 / pi x 23.76 V / 0.9 ohm = 16.8 A is the mean of a short circuit.
    expect(rawDc({ ...lampRail, amps: 17 })).toMatchObject({ starved: true, valley: 0 });
  });

  it('ripple without ESR never exceeds I / (2 f C), and all is finite (seed 11)', () => {
    const span = (low: number, high: number) =>
      fc.double({ min: Math.log(low), max: Math.log(high), noNaN: true }).map(Math.exp);
    const circuit = fc.record({
      peakVolts: span(5, 100),
      seriesOhms: span(0.01, 50),
      farads: span(1e-5, 0.1),
      amps: span(1e-4, 10),
    });
    fc.assert(
      fc.property(circuit, (parts) => {
        const raw = rawDc({ ...lampRail, ...parts, esr: 0 });
        expect(
          Object.values(raw).every((value) => typeof value === 'boolean' || Number.isFinite(value)),
        ).toBe(true);
        expect(raw.ripple).toBeLessThanOrEqual((parts.amps / (2 * 50 * parts.farads)) * 1.001);
      }),
      { numRuns: 300, seed: 11 },
    );
  });

  it.each([
    ['more current, fewer volts', { amps: 1 }, 'mean', -1],
    ['a larger reservoir, less ripple', { farads: 10e-3 }, 'ripple', -1],
    ['more resistance, fewer volts', { seriesOhms: 1.2 }, 'mean', -1],
    ['a softer source, less RMS current', { seriesOhms: 1.2 }, 'secondaryRms', -1],
    ['60 Hz, less ripple', { hertz: 60 }, 'ripple', -1],
    ['more ESR, more ripple', { esr: 0.5 }, 'ripple', 1],
  ] as const)('%s', (_title, change, key, sign) => {
    expect(Math.sign(rawDc({ ...lampRail, ...change })[key] - rawDc(lampRail)[key])).toBe(sign);
  });
});

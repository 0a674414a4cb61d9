import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { startCircuit } from '../../../drivers/simulated/circuit.js';
import type { CycleFigures } from '../../../drivers/simulated/circuit.js';
import { partsFrom } from '../../../drivers/simulated/supply-parts.js';
import type { RailParts, SupplyParts } from '../../../drivers/simulated/supply-parts.js';
import { CABIN } from './cabin.js';

interface ReferenceCase {
  readonly id: string;
  readonly inputs: Readonly<Record<string, number>> & {
    readonly rectifier: string;
    readonly one_diode_open: boolean;
    readonly load_resistance_ohm: number | null;
  };
  readonly answers: { readonly shockley: Readonly<Record<string, number>> };
}

/** Steady states from general-purpose integrators; how they were made stands in the README beside the file. */
const { cases } = JSON.parse(
  readFileSync(new URL('../../data/reference-cases/rectifier_cases.json', import.meta.url), 'utf8'),
) as { cases: ReferenceCase[] };

const HEALTHY = partsFrom(CABIN, 0);
const JUNCTIONS = new Map<string, number>();

function number(values: Readonly<Record<string, unknown>>, key: string): number {
  const value = values[key];
  if (typeof value !== 'number') throw new Error(`the reference has no ${key}`);
  return value;
}

/** A load that draws a constant current from almost no volts on. */
function constantCurrent(amps: number): RailParts {
  const lamps = HEALTHY.rails.get('lamps');
  if (!lamps) throw new Error('the cabin has no lamps');
  const loadAmps = { idle: amps, typical: amps, full: amps };
  const none = { dropoutVolts: 0.01, dropoutOhms: 0, groundAmps: 0, dividerAmps: 0, ripplePassed: 0 };
  return { ...lamps, ...none, setVolts: 0.1, loadAmps };
}

function partsOf({ inputs }: ReferenceCase): SupplyParts {
  const amps = number(inputs, 'reservoir_total_constant_current_A');
  return {
    ...HEALTHY,
    hertz: number(inputs, 'mains_frequency_Hz'),
    source: {
      peakVolts: number(inputs, 'derived_noload_peak_V'),
      windingOhms: number(inputs, 'derived_total_series_resistance_ohm'),
      diodesInPath: number(inputs, 'diodes_in_path'),
      halfCycles: inputs.one_diode_open || inputs.rectifier === 'half_wave' ? 'one' : 'both',
      windings: inputs.rectifier === 'centre_tap' ? 2 : 1,
      diode: {
        saturationAmps: number(inputs, 'diode_shockley_saturation_current_A'),
        ideality: number(inputs, 'diode_shockley_ideality_n'),
        ohms: number(inputs, 'diode_shockley_series_resistance_ohm'),
      },
    },
    reservoir: {
      farads: number(inputs, 'reservoir_capacitance_F'),
      seriesOhms: number(inputs, 'reservoir_esr_ohm'),
      bleedOhms: inputs.load_resistance_ohm ?? Infinity,
    },
    rails: new Map(amps > 0 ? [['load', constantCurrent(amps)]] : []),
  };
}

function steadyState(parts: SupplyParts, startVolts: number): CycleFigures {
  const circuit = startCircuit(parts, startVolts);
  let figures = circuit.cycle(1, 'typical', JUNCTIONS);
  for (let cycle = 0; cycle < 1000; cycle += 1) {
    const before = circuit.capacitorVolts;
    figures = circuit.cycle(1, 'typical', JUNCTIONS);
    if (Math.abs(circuit.capacitorVolts - before) < 1e-6) break;
  }
  return figures;
}

/** Relative, in percent. */
function difference(found: number, expected: number): number {
  return Math.abs(found / expected - 1) * 100;
}

describe('steady states against outside integrators', () => {
  it('has all the reference cases', () => {
    expect(cases).toHaveLength(60);
  });

  it.each(cases.map((each) => [each.id, each] as const))('%s: volts, ripple, amps and heat', (_id, given) => {
    const answer = given.answers.shockley;
    const figures = steadyState(partsOf(given), number(answer, 'v_mean_V'));
    const ripple = figures.reservoir.highest - figures.reservoir.lowest;
    expect(difference(figures.reservoir.mean, number(answer, 'v_mean_V'))).toBeLessThan(0.1);
    expect(difference(ripple, number(answer, 'ripple_pp_V'))).toBeLessThan(1);
    expect(difference(figures.reservoir.rms, number(answer, 'ripple_rms_V'))).toBeLessThan(0.5);
    expect(difference(figures.windingAmps, number(answer, 'rect_current_rms_A'))).toBeLessThan(0.5);
    expect(difference(figures.power.inDiodes, number(answer, 'diode_dissipation_total_W'))).toBeLessThan(0.5);
    const windingHeat = number(answer, 'source_resistance_dissipation_W');
    expect(difference(figures.power.inWinding, windingHeat)).toBeLessThan(0.5);
  });
});

describe('energy and charge', () => {
  it('what the winding gives is what winding, diodes, reservoir and loads take', () => {
    const { power } = steadyState(HEALTHY, 18);
    const taken = power.inWinding + power.inDiodes + power.inReservoirSeriesOhms + power.fromReservoir;
    expect(difference(taken, power.fromSource)).toBeLessThan(0.1);
  });

  it('charging the reservoir from empty puts C V^2 / 2 into it', () => {
    const parts: SupplyParts = { ...HEALTHY, rails: new Map() };
    const circuit = startCircuit(parts);
    let joules = 0;
    for (let cycle = 0; cycle < 50; cycle += 1) {
      const { power } = circuit.cycle(1, 'typical', JUNCTIONS);
      joules += (power.fromSource - power.inWinding - power.inDiodes - power.inReservoirSeriesOhms) / 50;
    }
    const stored = (parts.reservoir.farads * circuit.capacitorVolts ** 2) / 2;
    expect(difference(joules, stored)).toBeLessThan(1);
  });

  it('the rectifier carries on average what the loads draw', () => {
    const { meanAmps, rails } = steadyState(HEALTHY, 18);
    // 0.4 A and 0.25 A, 1.25 V / 240 ohm through the set resistors, 5 mA and 50 uA to ground.
    expect(meanAmps).toBeCloseTo(0.4 + 0.25 + 1.25 / 240 + 0.005 + 50e-6, 3);
    expect(rails.get('logic')?.loadAmps).toBeCloseTo(0.25, 6);
  });
});

describe('with the mains off', () => {
  it('a bleed resistor empties the reservoir exponentially', () => {
    const reservoir = { farads: 4700e-6, seriesOhms: 0.05, bleedOhms: 470 };
    const circuit = startCircuit({ ...HEALTHY, reservoir, rails: new Map() }, 20);
    for (let cycle = 0; cycle < 100; cycle += 1) circuit.cycle(0, 'typical', JUNCTIONS);
    // V = V0 exp(-t / (R + ESR) C), the textbook discharge, after 2 s.
    expect(circuit.capacitorVolts).toBeCloseTo(20 * Math.exp(-2 / (470.05 * 4700e-6)), 3);
  });

  it('a constant current takes I t / C', () => {
    const reservoir = { farads: 0.01, seriesOhms: 0, bleedOhms: Infinity };
    const rails = new Map([['load', constantCurrent(0.5)]]);
    const circuit = startCircuit({ ...HEALTHY, reservoir, rails }, 20);
    for (let cycle = 0; cycle < 5; cycle += 1) circuit.cycle(0, 'typical', JUNCTIONS);
    expect(circuit.capacitorVolts).toBeCloseTo(20 - (0.5 * 0.1) / 0.01, 3);
  });
});

describe('rails', () => {
  it('an adjustable one stands at Vref (1 + R2 / R1) + Iadj R2', () => {
    // TI LM317 datasheet SLVS044Z: 1.25 x (1 + 2050 / 240) + 50 uA x 2050 = 12.03 V.
    expect(steadyState(HEALTHY, 18).rails.get('lamps')?.mean).toBeCloseTo(12.03, 2);
  });

  it('passes ripple at its rejection: 65 dB is a 1778th', () => {
    const { reservoir, rails } = steadyState(HEALTHY, 18);
    const lamps = rails.get('lamps');
    const ratio = (reservoir.highest - reservoir.lowest) / ((lamps?.highest ?? 0) - (lamps?.lowest ?? 0));
    expect(difference(ratio, 1778)).toBeLessThan(1);
  });

  it('turns the rest of its input into heat', () => {
    const { reservoir, rails } = steadyState(HEALTHY, 18);
    // (Vin - Vout) I + Vin Iq of a 7805 at 0.25 A and 5 mA.
    const expected = (reservoir.mean - 5) * 0.25 + reservoir.mean * 0.005;
    expect(difference(rails.get('logic')?.dissipation ?? 0, expected)).toBeLessThan(0.5);
  });

  it('dips with the valley when that falls below the dropout', () => {
    const reservoir = { ...HEALTHY.reservoir, farads: 470e-6 };
    const figures = steadyState({ ...HEALTHY, reservoir }, 18);
    const lamps = figures.rails.get('lamps');
    expect(figures.reservoir.lowest).toBeLessThan(13);
    expect(lamps?.lowest).toBeLessThan(figures.reservoir.lowest - 1.5);
    expect(lamps?.highest).toBeCloseTo(12.03, 1);
  });
});

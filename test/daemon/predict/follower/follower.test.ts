import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  emptyFollowerFigures,
  followerWorkspace,
  solveFollower,
} from '../../../../daemon/predict/follower/follower.js';
import type { Follower, FollowerFigures } from '../../../../daemon/predict/follower/follower.js';
import { evenWaveform } from '../../../../daemon/predict/follower/periodic-waveform.js';
import type { PeriodicWaveform } from '../../../../daemon/predict/follower/periodic-waveform.js';
import type { OutputLoad } from '../../../../daemon/predict/follower/rc-filter.js';
import { followerCase, followerCases, followerOf, loadOf, waveOf } from './follower-cases.js';

function solved(wave: PeriodicWaveform, follower: Follower, load: OutputLoad): FollowerFigures {
  const figures = emptyFollowerFigures();
  solveFollower(wave, follower, load, followerWorkspace(wave.volts.length), figures);
  return figures;
}

// Answers of SciPy's LSODA, made as test/data/follower-waveforms/README.md tells.
describe('against circuits solved by a general-purpose integrator', () => {
  test.each(followerCases())('$circuit.name ($circuit.device)', (one) => {
    const figures = solved(waveOf(one), followerOf(one, 'junction'), loadOf(one));
    // With a resistive load the base-emitter volts were given at another current: Vt ln of the ratio, 4 mV.
    expect(Math.abs(figures.meanVolts - one.output_mean_V)).toBeLessThan(
      one.circuit.load_ohm === null ? 0.001 : 0.004,
    );
    const ripple = one.output_max_V - one.output_min_V;
    expect(Math.abs(figures.ripplePeakToPeak / ripple - 1)).toBeLessThan(0.005);
    expect(Math.abs(figures.rippleRms / one.output_ripple_rms_V - 1)).toBeLessThan(0.002);
  });
});

interface ReferenceAnswer {
  readonly vout_mean_V: number;
  readonly vout_min_V: number;
  readonly vout_ripple_pp_V: number;
  readonly vout_ripple_rms_V: number;
  readonly saturated_time_fraction: number;
  readonly pass_device_dissipation_W: number;
}

/** test/data/reference-cases/multiplier_cases.json: general-purpose integrators, its README tells how. */
function referenceAnswer(id: string, treatment: string): ReferenceAnswer {
  const file = new URL('../../../data/reference-cases/multiplier_cases.json', import.meta.url);
  const { cases } = JSON.parse(readFileSync(file, 'utf8')) as {
    cases: { id: string; answers: Record<string, ReferenceAnswer> }[];
  };
  const answer = cases.find((one) => one.id === id)?.answers[treatment];
  if (answer === undefined) throw new Error(`no answer ${treatment} for ${id}`);
  return answer;
}

describe('against the reference multipliers', () => {
  test.each([
    ['M01', 'junction', 'roomy bipolar'],
    ['M05', 'junction', 'saturating bipolar'],
    ['M07', 'mosfet', 'roomy mosfet'],
    ['M11', 'mosfet', 'mosfet that passes dips'],
  ])('%s as %s', (id, treatment, name) => {
    const one = followerCase(name);
    const answer = referenceAnswer(id, treatment);
    const figures = solved(waveOf(one), followerOf(one, 'junction', 0.3), loadOf(one));
    expect(figures.meanVolts).toBeCloseTo(answer.vout_mean_V, 3);
    expect(Math.abs(figures.ripplePeakToPeak / answer.vout_ripple_pp_V - 1)).toBeLessThan(0.002);
    expect(Math.abs(figures.rippleRms / answer.vout_ripple_rms_V - 1)).toBeLessThan(0.002);
    expect(Math.abs(figures.dissipation / answer.pass_device_dissipation_W - 1)).toBeLessThan(0.001);
  });

  // The clamp answers take I/β into the base, not I/(β + 1).
  test('M05 as clamp', () => {
    const one = followerCase('saturating bipolar, clamped');
    const answer = referenceAnswer('M05', 'clamp');
    const follower = { ...followerOf(one, 'clamp', 0.3), beta: 199 };
    const figures = solved(waveOf(one), follower, loadOf(one));
    expect(figures.meanVolts).toBeCloseTo(answer.vout_mean_V, 3);
    expect(Math.abs(figures.ripplePeakToPeak / answer.vout_ripple_pp_V - 1)).toBeLessThan(0.002);
    expect(Math.abs(figures.rippleRms / answer.vout_ripple_rms_V - 1)).toBeLessThan(0.002);
    expect(Math.abs(figures.saturatedFraction - answer.saturated_time_fraction)).toBeLessThan(1 / 256);
    expect(Math.abs(figures.dissipation / answer.pass_device_dissipation_W - 1)).toBeLessThan(0.001);
  });
});

function rippling(mean: number, peakToPeak: number): PeriodicWaveform {
  const volts = Float64Array.from(
    { length: 200 },
    (_, k) => mean + (peakToPeak / 2) * Math.cos((k * Math.PI) / 100),
  );
  return evenWaveform(volts, 0.01);
}

const bipolar = {
  kind: 'bipolar',
  law: 'clamp',
  network: { resistance: 1000, capacitance: 1e-3, divider: Infinity },
  beta: 100,
  baseEmitterVolts: 0.65,
  saturationVolts: 0.2,
} as const;

describe('a follower with room', () => {
  // Computed from 1/√(1 + (2πfRC)²): 1000 ohm and 1000 µF leave 0.001592 of 100 Hz, −56.0 dB.
  test('leaves of a sine what its RC leaves', () => {
    const figures = solved(rippling(20, 2), bipolar, { amps: 0.1, ohms: Infinity });
    expect(Math.abs(figures.ripplePeakToPeak / 2 / 0.001592 - 1)).toBeLessThan(5e-4);
  });

  // Textbook: base current × R + base-emitter volts below the input.
  test('drops the base current times the resistor and one junction', () => {
    const figures = solved(rippling(20, 2), bipolar, { amps: 0.1, ohms: Infinity });
    expect(figures.meanDrop).toBeCloseTo(0.65 + (0.1 / 101) * 1000, 9);
    expect(figures.saturatedFraction).toBe(0);
    expect(figures.timeConstant).toBeCloseTo(1, 12);
  });

  // Ohm's law by hand: 9 V across 1000 and 9000 ohm put 1 V on the first, and 10.1 ohm per volt at the base.
  test('stands lower with a divider, whose current the reservoir feeds too', () => {
    const divided = { ...bipolar, network: { ...bipolar.network, divider: 9000 } };
    const figures = solved(rippling(20, 2), divided, { amps: 0, ohms: Infinity });
    expect(figures.meanVolts).toBeCloseTo(18 - 0.65, 9);
    expect(figures.reservoirAmps).toBeCloseTo(0.002, 9);
  });

  test('a Darlington pair needs both junctions', () => {
    const pair = { ...bipolar, beta: 5000, baseEmitterVolts: 1.3, saturationVolts: 0.9 };
    const figures = solved(rippling(20, 1), pair, { amps: 1, ohms: Infinity });
    expect(figures.meanDrop).toBeCloseTo(1.3 + 1000 / 5001, 9);
  });
});

describe('a follower whose valley is reached', () => {
  const deep = rippling(20, 4);
  const load = { amps: 0.05, ohms: Infinity };

  test('bipolar rides near the valley with little ripple, by either law', () => {
    const clamp = solved(deep, bipolar, load);
    const junction = solved(deep, { ...bipolar, law: 'junction' }, load);
    expect(clamp.headroom).toBeLessThan(0);
    // After the valley the base still falls by (0.45 mA back + 0.5 mA base)/1 mF, under 9.5 mV in a period.
    expect(clamp.valleyVolts).toBeLessThanOrEqual(17.8 + 1e-9);
    expect(clamp.valleyVolts).toBeGreaterThan(17.8 - 0.0095);
    // Published comparison of the two laws: within 0.3 V in the mean.
    expect(Math.abs(junction.meanVolts - clamp.meanVolts)).toBeLessThan(0.3);
    // What is lost comes back through 1000 ohm: under (22 − 17.5) V, so under 4.5 mA × 10 ms / 1 mF in a period.
    expect(Math.max(clamp.ripplePeakToPeak, junction.ripplePeakToPeak)).toBeLessThan(0.045);
  });

  test('a MOSFET passes the dips', () => {
    const mosfet = {
      kind: 'mosfet',
      network: bipolar.network,
      gateSourceVolts: 1,
      onResistance: 0.1,
    } as const;
    const figures = solved(deep, mosfet, load);
    expect(figures.valleyVolts).toBeCloseTo(18 - 0.005, 9);
    expect(figures.peakVolts).toBeGreaterThan(18.9);
  });

  test('a base drop above the supply starves the load and says so', () => {
    const figures = solved(rippling(8, 1), bipolar, { amps: 2, ohms: Infinity });
    expect(figures.starved).toBe(true);
    expect(figures.meanVolts).toBe(0);
  });
});

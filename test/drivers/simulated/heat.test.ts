import { readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { coldState, heatFor, heatToAir } from '../../../drivers/simulated/heat.js';
import { heatsinkCooling, packagePart } from '../../../drivers/simulated/parts.js';
import type { AirCooling } from '../../../drivers/simulated/parts.js';
import type { RailCooling } from '../../../drivers/simulated/supply-parts.js';

interface Trace {
  readonly id: string;
  readonly truth: Readonly<Record<string, number>> & {
    readonly device: string;
    readonly case_curve_t_s: readonly number[];
    readonly case_curve_C: readonly number[];
    readonly segments: readonly {
      readonly t_start_s: number;
      readonly power_W: number;
      readonly local_ambient_C: number;
      readonly convection_factor: number;
    }[];
  };
}

/** Warm-up curves from a general-purpose integrator; how they were made stands in the README beside the file. */
const { traces } = JSON.parse(
  gunzipSync(
    readFileSync(new URL('../../data/reference-cases/thermal_traces.json.gz', import.meta.url)),
  ).toString(),
) as { traces: Trace[] };

const BARE: RailCooling = { package: packagePart('TO-220'), heatsink: null };

function straightAir(resistance: number): AirCooling {
  return { conduction: 1 / resistance, convection: 0, radiatingArea_m2: 0 };
}

function coolingOf({ truth }: Trace): RailCooling {
  const of = (key: string): number => truth[key] ?? NaN;
  const air = {
    conduction: of('conduction_W_per_K'),
    convection: of('convection_coefficient_W_per_K1p25'),
    radiatingArea_m2: of('radiating_area_m2') * of('emissivity'),
  };
  const heatsink = { interface: of('case_to_sink_C_per_W'), capacity: of('heatsink_capacity_J_per_K'), air };
  return {
    package: {
      junctionToCase: of('junction_to_case_C_per_W'),
      junctionCapacity: of('junction_capacity_J_per_K'),
      caseCapacity: of('case_capacity_J_per_K'),
      air,
    },
    heatsink: truth.device === 'heatsink' ? heatsink : null,
  };
}

/** The largest difference from the reference's case temperature, K. */
function worstDifference(trace: Trace): number {
  const { case_curve_t_s: times, case_curve_C: curve, segments } = trace.truth;
  const cooling = coolingOf(trace);
  let state = coldState(segments[0]?.local_ambient_C ?? NaN);
  let now = 0;
  let worst = 0;
  for (const [knot, atSeconds] of times.entries()) {
    for (const [index, segment] of segments.entries()) {
      const end = Math.min(atSeconds, segments[index + 1]?.t_start_s ?? Infinity);
      if (end <= now) continue;
      const conditions = {
        watts: segment.power_W,
        air: segment.local_ambient_C,
        airMovement: segment.convection_factor,
      };
      state = heatFor(state, cooling, conditions, end - now);
      now = end;
    }
    worst = Math.max(worst, Math.abs(state.case - (curve[knot] ?? NaN)));
  }
  return worst;
}

describe('warm-up against outside curves', () => {
  const some = traces.filter((_, index) => index % 10 === 0);

  it.each(some.map((trace) => [trace.id, trace.truth.device, trace] as const))(
    '%s (%s) follows the case within 0.25 K',
    (_id, _device, trace) => {
      expect(worstDifference(trace)).toBeLessThan(0.25);
    },
  );
});

describe('closed forms', () => {
  const package_ = { ...packagePart('TO-220'), air: straightAir(50) };
  const cooling: RailCooling = { package: package_, heatsink: null };

  it('settles at air + P x K/W, the junction above by P x junction-case', () => {
    const state = heatFor(coldState(20), cooling, { watts: 2, air: 20 }, 2000);
    expect(state.case).toBeCloseTo(20 + 2 * 50, 3);
    expect(state.junction).toBeCloseTo(20 + 2 * 50 + 2 * package_.junctionToCase, 3);
  });

  it('warms up as 1 - exp(-t / R C)', () => {
    const capacity = package_.caseCapacity + package_.junctionCapacity;
    const state = heatFor(coldState(20), cooling, { watts: 2, air: 20 }, 75);
    expect(state.case).toBeCloseTo(20 + 100 * -Math.expm1(-75 / (50 * capacity)), 0);
  });

  it('on a heatsink, P x (heatsink + interface) in the end', () => {
    const heatsink = { interface: 1, capacity: 60, air: straightAir(8) };
    const state = heatFor(coldState(25), { package: package_, heatsink }, { watts: 3, air: 25 }, 10_000);
    expect(state.heatsink).toBeCloseTo(25 + 3 * 8, 3);
    expect(state.case).toBeCloseTo(25 + 3 * 9, 3);
  });

  it('keeps account of the joules: what comes in is stored or goes to the air', () => {
    let state = coldState(20);
    let toAir = 0;
    for (let step = 0; step < 600; step += 1) {
      const next = heatFor(state, BARE, { watts: 2, air: 20 }, 0.1);
      toAir +=
        0.05 * (heatToAir(BARE.package.air, state.case, 20) + heatToAir(BARE.package.air, next.case, 20));
      state = next;
    }
    const { junctionCapacity, caseCapacity } = BARE.package;
    const stored = junctionCapacity * (state.junction - 20) + caseCapacity * (state.case - 20);
    expect((stored + toAir) / (2 * 60)).toBeCloseTo(1, 2);
  });

  it('one long call gives the same as many short ones', () => {
    const conditions = { watts: 2, air: 20 };
    let state = coldState(20);
    for (let step = 0; step < 100; step += 1) state = heatFor(state, BARE, conditions, 1);
    expect(heatFor(coldState(20), BARE, conditions, 100).case).toBeCloseTo(state.case, 9);
  });
});

describe('published figures', () => {
  it('a bare TO-220 comes out between the 50 and 65 K/W that its makers print', () => {
    // ST LM317 Rev 19: 50; National DS009063: 50; Fairchild LM78XX Rev 1.3.0: 65 (junction to free air).
    const { junction } = heatFor(coldState(25), BARE, { watts: 1.5, air: 25 }, 3000);
    expect((junction - 25) / 1.5).toBeGreaterThan(50);
    expect((junction - 25) / 1.5).toBeLessThan(65);
  });

  it('its time constant is the one to three minutes of common practice', () => {
    const settled = heatFor(coldState(25), BARE, { watts: 1.5, air: 25 }, 3000).case - 25;
    expect(heatFor(coldState(25), BARE, { watts: 1.5, air: 25 }, 60).case - 25).toBeLessThan(0.632 * settled);
    expect(heatFor(coldState(25), BARE, { watts: 1.5, air: 25 }, 180).case - 25).toBeGreaterThan(
      0.632 * settled,
    );
  });

  it('a heatsink is worse at a small rise: convection goes as the fourth root', () => {
    const air = heatsinkCooling(8);
    expect(40 / heatToAir(air, 65, 25)).toBeCloseTo(8, 6);
    expect(10 / heatToAir(air, 35, 25)).toBeGreaterThan(9);
  });
});

import { readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import type { Spell } from '../../../../daemon/predict/thermal/warm-up.js';
import type { Stack } from '../../../../daemon/predict/thermal/stack.js';
import type { SurfaceLaw } from '../../../../daemon/predict/thermal/surface.js';

interface StoredSegment {
  readonly t_start_s: number;
  readonly power_W: number;
  readonly local_ambient_C: number;
  readonly convection_factor: number;
  readonly steady_case_C: number;
}

export interface ThermalTrace {
  readonly id: string;
  readonly truth: {
    readonly device: 'heatsink' | 'bare_TO220';
    readonly theta_to_ambient_at_50K_C_per_W: number;
    readonly case_capacity_J_per_K: number;
    readonly heatsink_capacity_J_per_K: number;
    readonly case_to_sink_C_per_W: number;
    readonly junction_to_case_C_per_W: number;
    readonly junction_capacity_J_per_K: number;
    readonly emissivity: number;
    readonly radiating_area_m2: number;
    readonly conduction_W_per_K: number;
    readonly convection_coefficient_W_per_K1p25: number;
    readonly segments: readonly StoredSegment[];
    readonly case_curve_t_s: readonly number[];
    readonly case_curve_C: readonly number[];
  };
}

/** The reference warm-up traces: general-purpose integrators, the README beside them tells how. */
export function thermalTraces(): readonly ThermalTrace[] {
  const file = new URL('../../../data/reference-cases/thermal_traces.json.gz', import.meta.url);
  return (JSON.parse(gunzipSync(readFileSync(file)).toString('utf8')) as { traces: ThermalTrace[] }).traces;
}

export function stackOf({ truth }: ThermalTrace): Stack {
  const bare = truth.device === 'bare_TO220';
  return {
    capacities: [
      truth.junction_capacity_J_per_K,
      truth.case_capacity_J_per_K,
      ...(bare ? [] : [truth.heatsink_capacity_J_per_K]),
    ],
    resistances: [truth.junction_to_case_C_per_W, ...(bare ? [] : [truth.case_to_sink_C_per_W])],
    surface: surfaceOf(truth, 1),
  };
}

export function spellsOf({ truth }: ThermalTrace): Spell[] {
  return truth.segments.map((segment) => ({
    fromSeconds: segment.t_start_s,
    watts: segment.power_W,
    air: segment.local_ambient_C,
    surface: surfaceOf(truth, segment.convection_factor),
  }));
}

function surfaceOf(truth: ThermalTrace['truth'], convectionFactor: number): SurfaceLaw {
  return {
    conduction: truth.conduction_W_per_K,
    convection: truth.convection_coefficient_W_per_K1p25 * convectionFactor,
    radiation: truth.emissivity * truth.radiating_area_m2,
  };
}

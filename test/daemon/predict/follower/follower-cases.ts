import { readFileSync } from 'node:fs';
import type { Follower } from '../../../../daemon/predict/follower/follower.js';
import { evenWaveform } from '../../../../daemon/predict/follower/periodic-waveform.js';
import type { PeriodicWaveform } from '../../../../daemon/predict/follower/periodic-waveform.js';
import type { OutputLoad } from '../../../../daemon/predict/follower/rc-filter.js';

interface StoredCircuit {
  readonly name: string;
  readonly device: 'bipolar' | 'mosfet';
  readonly load_A: number;
  readonly load_ohm: number | null;
  readonly base_ohm: number;
  readonly base_F: number;
  readonly divider_ohm: number | null;
  readonly beta?: number;
  readonly vbe_V?: number;
  readonly vgs_V?: number;
  readonly rds_on_ohm?: number;
}

export interface FollowerCase {
  readonly circuit: StoredCircuit;
  readonly period_s: number;
  readonly input_V: readonly number[];
  readonly output_mean_V: number;
  readonly output_min_V: number;
  readonly output_max_V: number;
  readonly output_ripple_rms_V: number;
}

interface StoredCases {
  readonly cases: readonly FollowerCase[];
  readonly clamped: readonly FollowerCase[];
}

function stored(): StoredCases {
  const file = new URL('../../../data/follower-waveforms/follower_waveforms.json', import.meta.url);
  return JSON.parse(readFileSync(file, 'utf8')) as StoredCases;
}

/** The followers of test/data/follower-waveforms, solved by SciPy. */
export function followerCases(): readonly FollowerCase[] {
  return stored().cases;
}

export function followerCase(name: string): FollowerCase {
  const { cases, clamped } = stored();
  const found = [...cases, ...clamped].find((one) => one.circuit.name === name);
  if (found === undefined) throw new Error(`no follower case called ${name}`);
  return found;
}

export function waveOf(one: FollowerCase): PeriodicWaveform {
  return evenWaveform(Float64Array.from(one.input_V), one.period_s);
}

export function loadOf(one: FollowerCase): OutputLoad {
  return { amps: one.circuit.load_A, ohms: one.circuit.load_ohm ?? Infinity };
}

export function followerOf(one: FollowerCase, law: 'junction' | 'clamp', saturationVolts = 0.2): Follower {
  const { circuit } = one;
  const network = {
    resistance: circuit.base_ohm,
    capacitance: circuit.base_F,
    divider: circuit.divider_ohm ?? Infinity,
  };
  if (circuit.device === 'mosfet') {
    return {
      kind: 'mosfet',
      network,
      gateSourceVolts: circuit.vgs_V ?? NaN,
      onResistance: circuit.rds_on_ohm ?? NaN,
    };
  }
  return {
    kind: 'bipolar',
    law,
    network,
    beta: circuit.beta ?? NaN,
    baseEmitterVolts: circuit.vbe_V ?? NaN,
    saturationVolts,
  };
}

import { readFileSync } from 'node:fs';
import { waveformAt } from '../../../../daemon/predict/follower/periodic-waveform.js';
import type { PeriodicWaveform } from '../../../../daemon/predict/follower/periodic-waveform.js';

export interface RailCase {
  readonly id: string;
  readonly inputs: {
    readonly load_constant_current_A: number;
    readonly regulator_quiescent_current_A: number;
    readonly regulator_R1_ohm: number;
    readonly regulator_R2_ohm: number;
    readonly regulator_dropout_V: number;
    readonly regulator_ripple_rejection_dB: number;
  };
  readonly answer: {
    readonly vout_set_V: number;
    readonly vout_mean_V: number;
    readonly vout_min_V: number;
    readonly vout_max_V: number;
    readonly vout_ripple_pp_V: number;
    readonly headroom_at_valley_V: number;
    readonly dropout_time_fraction: number;
    readonly dissipation_W: number;
  };
  readonly input: PeriodicWaveform;
}

interface StoredCase {
  readonly id: string;
  readonly inputs: RailCase['inputs'];
  readonly answers: { readonly regulator_on_fixed_drop?: RailCase['answer'] };
}
interface StoredWave {
  readonly id: string;
  readonly period_s: number;
  readonly instants_s: readonly number[];
  readonly volts: readonly number[];
}

function read<T>(path: string): readonly T[] {
  const file = new URL(`../../../data/${path}`, import.meta.url);
  return (JSON.parse(readFileSync(file, 'utf8')) as { cases: T[] }).cases;
}

/** Regulators of the reference rectifier cases, each with its reservoir's waveform. */
export function railCases(): readonly RailCase[] {
  const circuits = read<StoredCase>('reference-cases/rectifier_cases.json');
  return read<StoredWave>('rail-waveforms/rail_waveforms.json').map((wave) => {
    const circuit = circuits.find((one) => one.id === wave.id);
    const answer = circuit?.answers.regulator_on_fixed_drop;
    if (circuit === undefined || answer === undefined) throw new Error(`no regulator case ${wave.id}`);
    const input = waveformAt(
      Float64Array.from(wave.instants_s),
      Float64Array.from(wave.volts),
      wave.period_s,
    );
    return { id: wave.id, inputs: circuit.inputs, answer, input };
  });
}

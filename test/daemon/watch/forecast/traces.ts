import { readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import type { BodyFigures, ProbeFigures } from './ladder.js';

/** One warm-up of `test/data/reference-cases/thermal_traces.json.gz`; its README says how they were made. */
export interface Trace {
  readonly id: string;
  readonly sample_rate_Hz: number;
  readonly lsb_C: number;
  readonly delta_counts: readonly (number | null)[];
  readonly truth: BodyFigures &
    ProbeFigures & {
      readonly device: string;
      readonly theta_to_ambient_at_50K_C_per_W: number;
      readonly sensor_off_s: number | null;
      readonly segments: readonly Segment[];
      readonly events: readonly { readonly type: string; readonly t_s: number | null }[];
      readonly crossing_time_s: Readonly<Record<string, number | null>>;
    };
}

export interface Segment {
  readonly t_start_s: number;
  readonly power_W: number;
  readonly local_ambient_C: number;
  readonly convection_factor: number;
  readonly steady_case_C: number;
}

const FILE = 'test/data/reference-cases/thermal_traces.json.gz';

export function loadTraces(): readonly Trace[] {
  const { traces } = JSON.parse(gunzipSync(readFileSync(FILE)).toString('utf8')) as {
    traces: readonly Trace[];
  };
  return traces;
}

/** `[s, degrees C]` of every reading that isn't missing. */
export function* readingsOf({
  delta_counts,
  lsb_C,
  sample_rate_Hz,
}: Trace): Generator<readonly [number, number]> {
  let counts = 0;
  for (const [index, delta] of delta_counts.entries()) {
    if (delta === null) continue;
    counts += delta;
    yield [index / sample_rate_Hz, counts * lsb_C];
  }
}

export function segmentAt({ truth }: Trace, seconds: number): Segment {
  return truth.segments.findLast(({ t_start_s }) => t_start_s <= seconds) ?? truth.segments[0]!;
}

/** When what makes the case cross the limit began: the first of the unbroken segments that would settle beyond it. */
export function causeOf({ truth }: Trace, limit: number, crossingS: number): number {
  const before = truth.segments.filter(({ t_start_s }) => t_start_s <= crossingS);
  let cause = before.at(-1)?.t_start_s ?? 0;
  for (const { t_start_s, steady_case_C } of before.toReversed()) {
    if (steady_case_C < limit - 0.05) break;
    cause = t_start_s;
  }
  return cause;
}

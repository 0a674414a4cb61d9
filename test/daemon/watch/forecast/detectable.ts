import { bodyFrom, warmUp, type Stretch } from './ladder.js';
import type { Trace } from './traces.js';

const WITHIN_S = 30;
/** A normal variable strays further once in 16 000; a warm-up has some 160 half minutes, so this is 1 % of warm-ups. */
const DEVIATIONS = 4;

/**
 * Whether anything at all could tell an event from its absence within half a minute, half of the times and falsely
 * in 1 % of warm-ups. The best there can be: the likelihood ratio of the two true curves at the true moment, which is normal with the
 * deflection `d` (M. Basseville and I. Nikiforov, Detection of Abrupt Changes, section 4.2). Knows the truth, nothing of
 * the forecast.
 */
export function isDetectable(trace: Trace, eventS: number): boolean {
  return deflection(trace, eventS) > DEVIATIONS;
}

/** How far the two lie apart in the readings that came, in deviations of noise and rounding. */
export function deflection(trace: Trace, eventS: number): number {
  const { lsb_C, sample_rate_Hz: rate, delta_counts } = trace;
  const [without, withIt] = [false, true].map((happens) => curveOf(trace, eventS, happens)) as [
    readonly number[],
    readonly number[],
  ];
  let square = 0;
  for (let at = Math.ceil(eventS * rate); at <= (eventS + WITHIN_S) * rate; at += 1) {
    if ((delta_counts[at] ?? null) !== null) square += (withIt[at]! - without[at]!) ** 2;
  }
  const { noise_rms_C } = trace.truth;
  return Math.sqrt(square / (noise_rms_C ** 2 + lsb_C ** 2 / 12));
}

/** What the probe shows until half a minute after the event. */
function curveOf({ sample_rate_Hz, truth }: Trace, eventS: number, happens: boolean): readonly number[] {
  const before = truth.segments.filter(({ t_start_s }) =>
    happens ? t_start_s <= eventS : t_start_s < eventS,
  );
  const stretches: Stretch[] = before.map((one) => ({
    startS: one.t_start_s,
    powerW: one.power_W,
    airC: one.local_ambient_C,
    convection: one.convection_factor,
    event: null,
    isLifted: false,
  }));
  const isLifted = happens && truth.sensor_off_s === eventS;
  if (isLifted) stretches.push({ ...stretches.at(-1)!, startS: eventS, isLifted });
  const airLagS = truth.sensor_lag_in_air_s ?? truth.sensor_lag_s;
  return warmUp(
    bodyFrom(truth),
    stretches,
    truth.sensor_lag_s,
    airLagS,
    eventS + WITHIN_S + 1,
    sample_rate_Hz,
  ).read;
}

import { followReturn, pointAlarm, raiseAlarm } from './alarms.js';
import type { Draft } from './draft.js';
import { knownAt } from './known-value.js';
import type { RailPlan } from './plan.js';
import { sampleDeadband, type Sample } from './sample.js';
import { railOf } from './supply-plan.js';

/** A rail that is this much above its own band isn't merely set wrong by its parts' tolerances (common practice). */
const FAR = 0.1;
/** Two junctions and a driver: what a regulator that is driven fully still drops, V (LM7805 and LM317 datasheets). */
const MOST_DROP = 2.5;
/** What feeds it sags under the larger load, or rises with a smaller one, by at most this (common practice). */
const SAGS = 0.8;
const RISES = 1.15;

/**
 * Raises the passing-input alarm of a regulated rail, at once: a rail far above its band that its input explains gets
 * no second reading. The input is taken as last measured, or as predicted where nobody measures it. Call it before
 * the alarms that it explains are followed.
 */
export function followPassingInput(draft: Draft, sample: Sample): void {
  const rail = railOf(draft.plan.supply, sample.point.id, 'volts');
  if (rail === undefined || !isFarAbove(sample, rail)) return;
  const alarm = pointAlarm(draft, 'passing-input', sample.point.id);
  if (alarm?.active !== true) raisePassing(draft, sample, rail);
}

/** Returns it once the rail is back for long enough. Call it after the alarms that it explains were followed. */
export function followPassingBack(draft: Draft, sample: Sample): void {
  const alarm = pointAlarm(draft, 'passing-input', sample.point.id);
  const rail = railOf(draft.plan.supply, sample.point.id, 'volts');
  if (alarm?.active !== true || rail === undefined) return;
  const { low, high } = sample.prediction;
  const margin = Math.min(sampleDeadband(sample), (high - low) / 4);
  const isBack = ofPolarity(sample.value, rail) <= Math.abs(expectedOf(sample, rail)) - margin;
  draft.setHold(alarm.id, followReturn(draft, draft.holds[alarm.id] ?? null, isBack, alarm));
}

function raisePassing(draft: Draft, sample: Sample, rail: RailPlan): void {
  const input = `${rail.from}.volts`;
  const known = knownAt(draft, input);
  if (known === null) return;
  const [low, high] = magnitudes(known.low, known.high);
  const seen = Math.abs(sample.value);
  if (seen < SAGS * low - MOST_DROP || seen > RISES * high + sample.guard) return;
  const point = sample.point.id;
  raiseAlarm(draft, {
    id: `passing-input:${point}`,
    cause: {
      kind: 'passing-input',
      point,
      value: sample.value,
      unit: 'V',
      expected: expectedOf(sample, rail),
      input,
      inputVolts: known.typical,
      inputMeasured: known.measured,
    },
    priority: 'high',
    latched: true,
    suppressedBy: [],
  });
}

function isFarAbove(sample: Sample, rail: RailPlan): boolean {
  const edge = Math.abs(expectedOf(sample, rail));
  return ofPolarity(sample.value, rail) > edge * (1 + FAR) + sample.guard;
}

/** The edge of the band that lies furthest from zero. */
function expectedOf({ prediction: { low, high } }: Sample, { polarity }: RailPlan): number {
  return polarity === 'negative' ? low : high;
}

/** Positive where the value has the rail's own sign. */
function ofPolarity(value: number, { polarity }: RailPlan): number {
  return polarity === 'negative' ? -value : value;
}

function magnitudes(low: number, high: number): readonly [number, number] {
  const [a, b] = [Math.abs(low), Math.abs(high)];
  return [Math.min(a, b), Math.max(a, b)];
}

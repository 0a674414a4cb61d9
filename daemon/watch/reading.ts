import { isBelievable } from './believable.js';
import { bandWhileCooling } from './cooling.js';
import { halfWidth, resolutionAt } from './compare.js';
import type { Draft } from './draft.js';
import type { ReadingEvent } from './events.js';
import { followHeadroom } from './headroom.js';
import { followHeading } from './heading.js';
import type { Hold } from './hold.js';
import { takeSignOfLife } from './instruments.js';
import { nextMeanStep } from './noise.js';
import { followOutsidePrediction } from './outside-prediction.js';
import { followOverLimit } from './over-limit.js';
import { followOverload } from './overload.js';
import { followPassingBack, followPassingInput } from './passing-input.js';
import { predictionOf, type Sample } from './sample.js';
import { inUnitOf } from './reading-unit.js';
import { isTelling, settleAtOnce, settlePoint } from './settling/settle-point.js';
import { endSilence } from './silence.js';
import type { ChannelState, PointState, ReadingMark } from './state.js';
import { noteOff } from './supply-off.js';
import { judge, tellUnjudged } from './verdict.js';

/**
 * One more reading. Channels that the plan doesn't name are not heard.
 * @param stands `alone`: one such reading is known to have stood still.
 */
export function takeReading(
  draft: Draft,
  event: ReadingEvent,
  stands: 'alone' | 'among-others' = 'among-others',
): void {
  const at = draft.channelAt(event.instrument, event.channel);
  if (at < 0) return;
  takeSignOfLife(draft, event.instrument);
  const value = event.value !== null && isBelievable(event.value, event.unit) ? event.value : null;
  const mark = value === null ? (event.mark ?? markOf(event.value)) : null;
  const channel = hearChannel(draft, at, value, mark);
  if (channel === null || channel.point === null) return;
  const place = draft.pointAt(channel.point);
  const point = draft.points[place];
  if (point === undefined || point.channel !== at) return;
  const after =
    value === null
      ? pointWithoutNumber(draft, point, channel, mark)
      : pointWithNumber(draft, point, channel, { at, read: value, unit: event.unit, stands });
  draft.setPoint(place, after);
}

function markOf(value: number | null): ReadingMark {
  return value !== null && Number.isFinite(value) ? 'out-of-range' : 'not-a-number';
}

/** A reading that is neither a number nor an overload tells nothing, so it doesn't end a silence. */
function hearChannel(
  draft: Draft,
  at: number,
  value: number | null,
  mark: ReadingMark | null,
): ChannelState | null {
  const before = draft.channels[at];
  if (before === undefined) return null;
  if (value === null && mark !== 'overload') return before;
  const resolution = resolutionAt(value ?? 0, draft.plan.channels[at]?.accuracy);
  const { instrument, channel, point, lastValue, meanStep } = before;
  // Spelt out here and below: a spread costs several times as much, and this runs for every reading.
  const after: ChannelState = {
    instrument,
    channel,
    point,
    lastAtMs: draft.atMs,
    lastValue: value ?? lastValue,
    meanStep: value === null ? meanStep : nextMeanStep(meanStep, lastValue, value, resolution),
    stale: false,
  };
  draft.setChannel(at, after);
  if (draft.alarms.length > 0) endSilence(draft, after);
  return after;
}

function pointWithoutNumber(
  draft: Draft,
  point: PointState,
  channel: ChannelState,
  mark: ReadingMark | null,
): PointState {
  tellUnjudged(draft, point);
  const overload = followOverload(draft, point, channel, mark === 'overload');
  return unjudged(draft, point, null, mark, overload);
}

/** A point after a reading on which no verdict can be given: the conditions of its alarms aren't seen to hold. */
function unjudged(
  draft: Draft,
  { id, channel, settling, following, forecast }: PointState,
  value: number | null,
  mark: ReadingMark | null,
  overload: Hold | null,
): PointState {
  const { atMs } = draft;
  return {
    id,
    channel,
    value,
    mark,
    atMs,
    verdict: null,
    guard: 0,
    settling,
    overLimit: null,
    outside: null,
    overload,
    following,
    forecast,
  };
}

/** Nearly always the sample itself: a spread costs too much for every reading. */
function sampleWhileCooling(draft: Draft, sample: Sample): Sample {
  const prediction = bandWhileCooling(draft, sample.prediction);
  return prediction === sample.prediction ? sample : { ...sample, prediction };
}

interface ReadNumber {
  /** The channel's place. */
  readonly at: number;
  readonly read: number;
  readonly unit: ReadingEvent['unit'];
  readonly stands: 'alone' | 'among-others';
}

function pointWithNumber(
  draft: Draft,
  point: PointState,
  channel: ChannelState,
  { at, read, unit, stands }: ReadNumber,
): PointState {
  const overload = followOverload(draft, point, channel, false);
  const prediction = predictionOf(draft.prediction, point.id);
  const accuracy = draft.plan.channels[at]?.accuracy;
  const measured = inUnitOf(prediction?.unit, { value: read, unit, guard: halfWidth(read, accuracy) });
  // In another unit than the point's it must not be shown or judged as the point's value.
  if (prediction === undefined || measured === null) {
    tellUnjudged(draft, point);
    return unjudged(draft, point, prediction === undefined ? read : null, null, overload);
  }
  const { value, guard } = measured;
  const sample: Sample = {
    point,
    prediction,
    value,
    guard,
    meanStep: channel.meanStep === null ? null : channel.meanStep * measured.factor,
    resolution: resolutionAt(read, accuracy) * measured.factor,
  };
  const { typed, intervalMs = 0 } = draft.plan.channels[at] ?? {};
  const settling =
    stands === 'alone' || typed === true
      ? settleAtOnce(draft, sample)
      : settlePoint(draft, sample, intervalMs);
  const tells = isTelling(settling, prediction.unit, draft.atMs, intervalMs);
  noteOff(draft, sample);
  const judged = sampleWhileCooling(draft, sample);
  const verdict = judge(draft, judged, tells);
  followPassingInput(draft, sample);
  const overLimit = followOverLimit(draft, sample);
  const outside = followOutsidePrediction(draft, judged, tells);
  const { following, forecast } = followHeading(draft, sample);
  followHeadroom(draft, sample);
  followPassingBack(draft, sample);
  const { id, channel: measuredBy } = point;
  return {
    id,
    channel: measuredBy,
    value,
    mark: null,
    atMs: draft.atMs,
    verdict,
    guard,
    settling,
    overLimit,
    outside,
    overload,
    following,
    forecast,
  };
}

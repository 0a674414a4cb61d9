import { packedSamples } from './record/capture/samples.js';
import type { CaptureEvent, FaultEvent } from './watch/events.js';
import { channelPoint, type WatchState } from './watch/state.js';
import type { Capture } from '../drivers/driver.js';

const NOT_RECORDED = 'not-recorded';

/**
 * A driver's capture as an event of the session, on the test point where its probe sits now. A fault when it has no
 * samples, or more than a recording takes.
 */
export function captureEvent(
  instrument: string,
  capture: Capture,
  state: WatchState,
): CaptureEvent | FaultEvent {
  try {
    return packedEvent(instrument, capture, state);
  } catch (problem) {
    if (!(problem instanceof RangeError)) throw problem;
    return captureFault(instrument, capture, problem.message, state);
  }
}

/** A capture that isn't recorded, as the session's next fault of this kind. */
export function captureFault(
  instrument: string,
  { atMs, channel }: Capture,
  why: string,
  state: WatchState,
): FaultEvent {
  const faults = state.instruments.find(({ name }) => name === instrument)?.faults ?? {};
  const count = (faults[NOT_RECORDED] ?? 0) + 1;
  const detail = `a capture of ${channel}: ${why}`;
  return { kind: 'fault', atMs, instrument, code: NOT_RECORDED, count, detail };
}

/** @throws {RangeError} when its samples don't fit. */
function packedEvent(instrument: string, capture: Capture, state: WatchState): CaptureEvent {
  const { atMs, channel, unit, samples, scale, offset, startSeconds, stepSeconds, coupling } = capture;
  return {
    kind: 'capture',
    atMs,
    instrument,
    channel,
    point: channelPoint(state, instrument, channel),
    unit,
    ...packedSamples(samples),
    scale,
    offset,
    startSeconds,
    stepSeconds,
    coupling,
  };
}

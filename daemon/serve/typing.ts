import type { WatchState } from '../watch/state.js';
import type { TypingPlace } from './messages.js';

/** A channel whose readings a person types. */
export interface TypedChannel {
  readonly instrument: string;
  readonly channel: string;
  /** The test points on which its probe can sit. */
  readonly points: readonly string[];
}

/**
 * Where a person may type readings now: each test point that no other instrument measures, with the channel that sits
 * there, or else one that can: an idle one before one that has to leave its place. In the order of the prediction.
 */
export function typingPlaces(state: WatchState, typed: readonly TypedChannel[]): readonly TypingPlace[] {
  return Object.keys(state.plan.prediction.points).flatMap((point) => placeAt(state, typed, point) ?? []);
}

function placeAt(state: WatchState, typed: readonly TypedChannel[], point: string): TypingPlace | null {
  const measuring = state.points[state.pointIndex[point] ?? -1]?.channel ?? null;
  const there = typed.find((one) => measuring !== null && placeIn(state, one) === measuring);
  if (there !== undefined) return placeOf(point, there, true);
  if (measuring !== null) return null;
  const channel = fittest(state, typed, point);
  return channel === undefined ? null : placeOf(point, channel, false);
}

/** The channel to bring to a point: an idle one first. */
export function fittest(
  state: WatchState,
  typed: readonly TypedChannel[],
  point: string,
): TypedChannel | undefined {
  const fitting = typed.filter(({ points }) => points.includes(point));
  return fitting.find((one) => state.channels[placeIn(state, one)]?.point === null) ?? fitting[0];
}

function placeIn({ channelIndex }: WatchState, { instrument, channel }: TypedChannel): number {
  return channelIndex[instrument]?.[channel] ?? -1;
}

function placeOf(point: string, { instrument, channel }: TypedChannel, there: boolean): TypingPlace {
  return { point, instrument, channel, there };
}

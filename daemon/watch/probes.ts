import { clearUnmeasured } from './alarms.js';
import type { Draft } from './draft.js';
import type { ProbeEvent } from './events.js';
import { unmeasuredPoint, type PointState } from './state.js';
import { tellNoVerdict } from './verdict.js';

/**
 * A probe was moved. The channel's newest probe measures the point; another channel that still sits there takes
 * over when it leaves. Alarms of a point that nobody measures any more stay until they are acknowledged.
 */
export function takeProbe(draft: Draft, event: ProbeEvent): void {
  const at = draft.channelAt(event.instrument, event.channel);
  const channel = draft.channels[at];
  if (channel === undefined || channel.point === event.point) return;
  // Noise and steps of the old place say nothing about the new one.
  draft.setChannel(at, { ...channel, point: event.point, lastValue: null, meanStep: null });
  if (channel.point !== null) leavePoint(draft, at, channel.point);
  if (event.point !== null) measurePoint(draft, pointPlace(draft, event.point), at);
}

function leavePoint(draft: Draft, at: number, id: string): void {
  const place = draft.pointAt(id);
  if (draft.points[place]?.channel !== at) return;
  const heir = draft.channels.findIndex((channel) => channel.point === id);
  measurePoint(draft, place, heir < 0 ? null : heir);
  if (heir < 0) clearUnmeasured(draft, id);
}

function measurePoint(draft: Draft, place: number, channel: number | null): void {
  const before = draft.points[place];
  if (before === undefined) return;
  const after: PointState = { ...unmeasuredPoint(before.id), channel };
  draft.setPoint(place, after);
  if (before.verdict === null) return;
  tellNoVerdict(draft, before.id);
}

function pointPlace(draft: Draft, id: string): number {
  const place = draft.pointAt(id);
  return place < 0 ? draft.addPoint(unmeasuredPoint(id)) : place;
}

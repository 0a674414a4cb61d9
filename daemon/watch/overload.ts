import { followRaise, followReturn, pointAlarm } from './alarms.js';
import type { Draft } from './draft.js';
import type { Delay, Hold } from './hold.js';
import { predictionOf } from './sample.js';
import type { ChannelState, PointState } from './state.js';

/** A meter that changes its range by itself shows one overload and means nothing by it. */
const ON_DELAY: Delay = { readings: 2, ms: 1000 };

/** Follows the overload alarm of a point through one more reading of its channel; returns its hold. */
export function followOverload(
  draft: Draft,
  point: PointState,
  channel: ChannelState,
  isOverload: boolean,
): Hold | null {
  const alarm = pointAlarm(draft, 'overload', point.id);
  if (alarm?.active === true) return followReturn(draft, point.overload, !isOverload, alarm);
  if (!isOverload) return null;
  const hasLimits = (predictionOf(draft.prediction, point.id)?.limits.length ?? 0) > 0;
  return followRaise(draft, point.overload, ON_DELAY, {
    id: `overload:${point.id}`,
    cause: { kind: 'overload', instrument: channel.instrument, channel: channel.channel, point: point.id },
    priority: hasLimits ? 'medium' : 'low',
    latched: false,
    suppressedBy: [],
  });
}

import type { AlarmCause, AlarmFacts } from './alarm.js';
import { raiseAlarm, returnAlarm, suppressAlarm, unsuppressAlarm } from './alarms.js';
import type { Draft } from './draft.js';
import { expireShelving } from './shelving.js';
import { isConnected, type ChannelState, type InstrumentState } from './state.js';
import { tellNoVerdict } from './verdict.js';

/** So many of its intervals without a reading and a channel is stale. */
const SILENT_INTERVALS = 3;

/**
 * What time alone brings about: instruments that don't come, channels that fall silent. Silence never resolves
 * anything: the other alarms of a stale channel stay as they are.
 */
export function passTime(draft: Draft): void {
  if (draft.alarms.length > 0) expireShelving(draft);
  for (const instrument of draft.instruments) settleInstrument(draft, instrument);
  for (let at = 0; at < draft.channels.length; at += 1) {
    const channel = draft.channels[at];
    if (channel === undefined) continue;
    if (channel.stale || silentMs(draft, channel) > allowedMs(draft, at)) settleSilence(draft, at, channel);
  }
}

/** Raises or returns the alarm of an instrument by its state: one alarm for it and all its channels. */
export function settleInstrument(draft: Draft, instrument: InstrumentState): void {
  if (isAbsent(draft, instrument)) {
    if (lostAlarm(draft, instrument.name)?.active === true) return;
    const { name, why } = instrument;
    raiseAlarm(draft, {
      id: lostAlarmId(name),
      cause: { kind: 'instrument-lost', instrument: name, why },
      priority: 'medium',
      latched: false,
      suppressedBy: [],
    });
  } else if (draft.alarms.length > 0 && isConnected(instrument)) {
    const alarm = lostAlarm(draft, instrument.name);
    if (alarm?.active === true) returnAlarm(draft, alarm);
  }
}

/** No value of this channel may be shown as good from now on. */
export function markStale(draft: Draft, at: number): void {
  const channel = draft.channels[at];
  if (channel === undefined || channel.stale) return;
  draft.setChannel(at, { ...channel, stale: true });
  const place = channel.point === null ? -1 : draft.pointAt(channel.point);
  const point = draft.points[place];
  if (point === undefined || point.channel !== at) return;
  // The holds end here: a condition must be seen to hold.
  for (const id of Object.keys(draft.holds)) if (id.endsWith(`:${point.id}`)) draft.setHold(id, null);
  draft.setPoint(place, { ...point, verdict: null, overLimit: null, outside: null, overload: null });
  if (point.verdict === null) return;
  tellNoVerdict(draft, point.id);
}

/** A channel that was heard again has its alarm returned. */
export function endSilence(draft: Draft, channel: ChannelState): void {
  const alarm = staleAlarm(draft, channel);
  if (alarm?.active === true) returnAlarm(draft, alarm);
}

function settleSilence(draft: Draft, at: number, channel: ChannelState): void {
  markStale(draft, at);
  if (draft.plan.channels[at]?.typed === true) return;
  const instrument = draft.instruments.find(({ name }) => name === channel.instrument);
  if (instrument === undefined || instrument.state === 'closed') return;
  // Stale at once when its instrument was lost, but no alarm of its own before it is overdue.
  if (silentMs(draft, channel) <= allowedMs(draft, at)) return;
  const alarm = staleAlarm(draft, channel);
  if (isAbsent(draft, instrument)) {
    const by = lostAlarmId(instrument.name);
    if (alarm?.active !== true) raiseStale(draft, channel, [by]);
    else if (alarm.suppressedBy.length === 0) suppressAlarm(draft, alarm, [by]);
  } else if (isConnected(instrument) && draft.atMs - (instrument.connectedAtMs ?? 0) > allowedMs(draft, at)) {
    if (alarm?.active !== true) raiseStale(draft, channel, []);
    else if (alarm.suppressedBy.length > 0) {
      unsuppressAlarm(draft, { ...alarm, cause: staleCause(draft, channel) }, false);
    }
  }
}

function raiseStale(draft: Draft, channel: ChannelState, suppressedBy: readonly string[]): void {
  raiseAlarm(draft, {
    id: `stale:${channel.instrument}.${channel.channel}`,
    cause: staleCause(draft, channel),
    priority: channel.point === null ? 'low' : 'medium',
    latched: false,
    suppressedBy,
  });
}

function staleCause(draft: Draft, channel: ChannelState): AlarmCause {
  const { instrument, channel: name, point } = channel;
  return { kind: 'stale', instrument, channel: name, point, silentMs: silentMs(draft, channel) };
}

/** Lost, or looked for in vain: after a loss always, at the start once its readings are overdue. */
function isAbsent(draft: Draft, { state, connectedAtMs, intervalMs }: InstrumentState): boolean {
  if (state === 'lost') return true;
  if (state !== 'waiting') return false;
  return connectedAtMs !== null || (intervalMs !== null && draft.atMs > SILENT_INTERVALS * intervalMs);
}

function silentMs(draft: Draft, channel: ChannelState): number {
  return draft.atMs - (channel.lastAtMs ?? 0);
}

function allowedMs(draft: Draft, at: number): number {
  return SILENT_INTERVALS * (draft.plan.channels[at]?.intervalMs ?? 0);
}

function lostAlarmId(instrument: string): string {
  return `instrument-lost:${instrument}`;
}

function lostAlarm(draft: Draft, instrument: string): AlarmFacts | undefined {
  for (const alarm of draft.alarms) {
    if (alarm.cause.kind === 'instrument-lost' && alarm.cause.instrument === instrument) return alarm;
  }
  return undefined;
}

function staleAlarm(draft: Draft, { instrument, channel }: ChannelState): AlarmFacts | undefined {
  for (const alarm of draft.alarms) {
    const { cause } = alarm;
    if (cause.kind === 'stale' && cause.instrument === instrument && cause.channel === channel) return alarm;
  }
  return undefined;
}

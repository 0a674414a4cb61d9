import { acknowledgeAlarm } from './alarms.js';
import { takeCapture } from './capture.js';
import { settleClock, takeClock } from './clock-jump.js';
import { disarmedCutOff, settleCutOffs, takeCutOffOrder, takeOutput } from './cut-off.js';
import { Draft } from './draft.js';
import type { Effect } from './effects.js';
import type { WatchEvent } from './events.js';
import { takeExpect } from './expected.js';
import { takeFault, takeInstrument, unseenInstrument } from './instruments.js';
import type { ChannelPlan, WatchPlan } from './plan.js';
import { takeLoad } from './load-state.js';
import { followProcedure } from './procedure/follow.js';
import { beginProcedure } from './procedure/procedure-state.js';
import { takeStep } from './procedure/take-step.js';
import { takeProbe } from './probes.js';
import { takeReading } from './reading.js';
import { settleRecorder, takeRecorder } from './recorder.js';
import { settleServices, takeService } from './services.js';
import { takeShelve } from './shelving.js';
import { passTime } from './silence.js';
import { settleStall, takeStall } from './stall.js';
import { takeSuspects } from './suspected.js';
import { unmeasuredPoint, type WatchState } from './state.js';

export type { WatchState } from './state.js';

/** The state at the session's start, 0 ms: every instrument is awaited and no probe sits anywhere yet. */
export function beginWatch(plan: WatchPlan): WatchState {
  const ids = Object.keys(plan.prediction.points);
  return {
    plan,
    nowMs: 0,
    points: ids.map(unmeasuredPoint),
    pointIndex: Object.fromEntries(ids.map((id, place) => [id, place])),
    channels: plan.channels.map(({ instrument, channel }) => ({
      instrument,
      channel,
      point: null,
      lastAtMs: null,
      lastValue: null,
      meanStep: null,
      stale: false,
    })),
    channelIndex: indexChannels(plan.channels),
    instruments: instrumentNames(plan.channels).map((name) =>
      unseenInstrument(name, shortestInterval(plan.channels, name)),
    ),
    alarms: [],
    raises: {},
    recorder: { writing: null, why: 'not started' },
    services: [],
    expecting: null,
    cooling: {},
    offAtMs: null,
    suspicion: null,
    load: {
      state: plan.prediction.load,
      sinceMs: 0,
      recognised: null,
      said: plan.prediction.load,
      refuted: null,
    },
    procedure: plan.procedure === undefined ? null : beginProcedure(plan.procedure),
    holds: {},
    cutOffs: (plan.cutOffs ?? []).map(disarmedCutOff),
  };
}

/**
 * What one event makes of the state, and what the world should know. Pure: the incoming state is left as it was
 * and the same events always give the same effects. A time before that of the last event counts as that one.
 */
export function watch(
  state: WatchState,
  event: WatchEvent,
): { state: WatchState; effects: readonly Effect[] } {
  const draft = new Draft(state, event.atMs);
  passTime(draft);
  takeEvent(draft, event);
  followProcedure(draft, event);
  settleCutOffs(draft, state.alarms);
  return draft.finish();
}

function takeEvent(draft: Draft, event: WatchEvent): void {
  switch (event.kind) {
    case 'reading':
      return takeReading(draft, event);
    case 'tick':
      settleRecorder(draft);
      settleServices(draft);
      settleStall(draft);
      return settleClock(draft);
    case 'instrument':
      return takeInstrument(draft, event);
    case 'fault':
      return takeFault(draft, event);
    case 'probe':
      return takeProbe(draft, event);
    case 'acknowledge':
      return acknowledgeAlarm(draft, event.alarm);
    case 'recorder':
      return takeRecorder(draft, event);
    case 'capture':
      return takeCapture(draft, event);
    case 'load':
      return takeLoad(draft, event.load);
    case 'expect':
      return takeExpect(draft, event);
    case 'suspects':
      return takeSuspects(draft, event);
    case 'step':
      return takeStep(draft, event);
    case 'shelve':
      return takeShelve(draft, event);
    case 'cut-off':
      return takeCutOffOrder(draft, event);
    case 'output':
      return takeOutput(draft, event);
    case 'clock':
      return takeClock(draft, event);
    case 'service':
      return takeService(draft, event);
    case 'stall':
      return takeStall(draft, event);
    case 'note':
    case 'hook':
      return;
  }
}

function instrumentNames(channels: readonly ChannelPlan[]): readonly string[] {
  return [...new Set(channels.map(({ instrument }) => instrument))];
}

function shortestInterval(channels: readonly ChannelPlan[], instrument: string): number {
  return Math.min(
    ...channels.filter((one) => one.instrument === instrument).map(({ intervalMs }) => intervalMs),
  );
}

function indexChannels(channels: readonly ChannelPlan[]): WatchState['channelIndex'] {
  const byInstrument = new Map<string, [string, number][]>();
  channels.forEach(({ instrument, channel }, at) => {
    byInstrument.set(instrument, [...(byInstrument.get(instrument) ?? []), [channel, at]]);
  });
  return Object.fromEntries([...byInstrument].map(([name, entries]) => [name, Object.fromEntries(entries)]));
}

import type { LoadState } from '../design/design.js';
import type { AlarmCause, AlarmFacts } from './alarm.js';
import type { Verdict } from './effects.js';
import type { Cooling } from './cooling.js';
import type { InstrumentEvent, ReadingEvent, ServiceEvent, SuspectsEvent } from './events.js';
import type { Expecting } from './expected.js';
import type { FollowState } from './forecast/follow-state.js';
import type { Forecast } from './forecast/forecast.js';
import type { Hold } from './hold.js';
import type { WatchPlan } from './plan.js';
import type { Settling } from './settling/settling.js';
import type { ProcedureState } from './procedure/procedure-state.js';

export type ReadingMark = NonNullable<ReadingEvent['mark']>;

/**
 * Everything the core knows, plain data. Channels stand in the order of the plan; the indexes hold where
 * things are in the lists. Lists rather than records keyed by name, because copying a short list is all that
 * a reading costs.
 */
export interface WatchState {
  readonly plan: WatchPlan;
  readonly nowMs: number;
  readonly points: readonly PointState[];
  readonly pointIndex: Readonly<Record<string, number>>;
  readonly channels: readonly ChannelState[];
  readonly channelIndex: Readonly<Record<string, Readonly<Record<string, number>>>>;
  readonly instruments: readonly InstrumentState[];
  /** In the order in which they were first raised. Only what needs showing: a normal alarm is not kept. */
  readonly alarms: readonly AlarmFacts[];
  /** By alarm id, also of alarms that are gone. */
  readonly raises: Readonly<Record<string, RaiseTimes>>;
  readonly recorder: RecorderState;
  /** What beside the watching has stopped, or works again and its alarm hasn't returned yet. */
  readonly services: readonly ServiceEvent[];
  readonly load: LoadInForce;
  /** Other bands than the plan's; null: the plan's. */
  readonly expecting: Expecting | null;
  /** By test point: temperatures that may still be hotter than what is expected now. */
  readonly cooling: Readonly<Record<string, Cooling>>;
  /** When everything that tells on from off last looked off; null: never. */
  readonly offAtMs: number | null;
  /** What the settled readings speak for; null before any were weighed and under another load. */
  readonly suspicion: SuspectsEvent | null;
  /** Null in a session without a power-up. */
  readonly procedure: ProcedureState | null;
  /** By alarm id: how long it has been about to change, where no field of a test point says so. */
  readonly holds: Readonly<Record<string, Hold>>;
  readonly cutOffs: readonly CutOffState[];
}

export interface PointState {
  readonly id: string;
  /** Index of the channel whose readings count here; null when nobody measures it. */
  readonly channel: number | null;
  readonly value: number | null;
  readonly mark: ReadingMark | null;
  readonly atMs: number | null;
  readonly verdict: Verdict | null;
  /** Half-width of the meter's accuracy at the value; 0 when nothing is known of it. */
  readonly guard: number;
  /** Whether it stands still; null before the first number since its probe came. */
  readonly settling: Settling | null;
  /** How long each alarm of this point has been about to change: to raise, or when active to return. */
  readonly overLimit: Hold | null;
  readonly outside: Hold | null;
  readonly overload: Hold | null;
  /** Of a temperature that has a limit above it: what is remembered of its warming, and where it is going. */
  readonly following: FollowState | null;
  readonly forecast: Forecast | null;
}

export interface ChannelState {
  readonly instrument: string;
  readonly channel: string;
  /** The test point on which its probe sits. */
  readonly point: string | null;
  /** The last reading that told something: a number or an overload. */
  readonly lastAtMs: number | null;
  readonly lastValue: number | null;
  /** Running mean of the steps between successive readings: the noise. */
  readonly meanStep: number | null;
  /** No such reading for more than three intervals, or the instrument is lost. */
  readonly stale: boolean;
}

export interface InstrumentState {
  readonly name: string;
  readonly state: InstrumentEvent['state'];
  readonly why: string;
  readonly identity: string | null;
  readonly path: string | null;
  /** The shortest interval of its channels; null when the plan gives it none. */
  readonly intervalMs: number | null;
  /** When it was last found; null when it never was. */
  readonly connectedAtMs: number | null;
  readonly faults: Readonly<Record<string, number>>;
  readonly lastFault: string | null;
}

/** The last two times at which an alarm was raised, or told to be worse. */
export interface RaiseTimes {
  readonly lastAtMs: number;
  readonly previousAtMs: number | null;
}

/** How much the rails draw, as far as anybody said. */
export interface LoadInForce {
  readonly state: LoadState;
  readonly sinceMs: number;
  /** Another one that was recognised since; nobody has answered yet. */
  readonly recognised: LoadState | null;
  /** What a person, a step or the session's beginning says is on, whatever was recognised. */
  readonly said: LoadState;
  /** Was recognised until what was weighed spoke for a fault under the said one; not to be recognised again. */
  readonly refuted: LoadState | null;
}

export interface CutOffState {
  readonly output: string;
  /** `dropped` stays until a person arms it again. */
  readonly state: 'disarmed' | 'armed' | 'dropped';
  readonly sinceMs: number;
  /** Id of the alarm that dropped it; null where it was a test, or nothing dropped it. */
  readonly alarm: string | null;
  readonly cause: AlarmCause | null;
  /** What the output said last of itself. */
  readonly position: 'on' | 'off' | 'unknown';
  /** Power was taken away: what was live then, and whether that was seen to fall. Null: nothing is awaited. */
  readonly falling: Falling | null;
}

export interface Falling {
  readonly sinceMs: number;
  /** The output has said that power is off. */
  readonly confirmed: boolean;
  /** Test points that were live then, with their values. */
  readonly live: Readonly<Record<string, number>>;
}

export interface RecorderState {
  /** Null until the recorder has said anything. */
  readonly writing: boolean | null;
  readonly why: string;
}

/** A test point that nobody measures. */
export function unmeasuredPoint(id: string): PointState {
  return {
    id,
    channel: null,
    value: null,
    mark: null,
    atMs: null,
    verdict: null,
    guard: 0,
    settling: null,
    overLimit: null,
    outside: null,
    overload: null,
    following: null,
    forecast: null,
  };
}

/** A test point by its id; undefined when nothing was ever said about it. */
export function pointOf(state: WatchState, id: string): PointState | undefined {
  return Object.hasOwn(state.pointIndex, id) ? state.points[state.pointIndex[id] ?? -1] : undefined;
}

/** The test point on which a channel's probe sits; null for nowhere and for a channel that the plan doesn't name. */
export function channelPoint(state: WatchState, instrument: string, channel: string): string | null {
  const at = state.channelIndex[instrument]?.[channel];
  return at === undefined ? null : (state.channels[at]?.point ?? null);
}

/** Whether the instrument answers, as far as its last state says. */
export function isConnected(instrument: InstrumentState): boolean {
  return instrument.state === 'open' || instrument.state === 'reading';
}

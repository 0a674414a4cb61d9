import type { AlarmFacts } from './alarm.js';
import type { Cooling } from './cooling.js';
import type { Prediction } from '../predict/prediction.js';
import type { Effect } from './effects.js';
import type { ServiceEvent, SuspectsEvent } from './events.js';
import { expectedPrediction, type Expecting } from './expected.js';
import type { Hold } from './hold.js';
import type { WatchPlan } from './plan.js';
import type { ProcedureState } from './procedure/procedure-state.js';
import type {
  ChannelState,
  CutOffState,
  InstrumentState,
  LoadInForce,
  PointState,
  RaiseTimes,
  RecorderState,
  WatchState,
} from './state.js';

const NO_EFFECTS: readonly Effect[] = Object.freeze([]);

/**
 * The next state in the making, for the length of one event. Each list is copied when it is first written to,
 * so the state it began with is never touched and what didn't change is shared.
 */
export class Draft {
  readonly plan: WatchPlan;
  /** When the event happened; never before the one before. */
  readonly atMs: number;
  alarms: readonly AlarmFacts[];
  raises: Readonly<Record<string, RaiseTimes>>;
  recorder: RecorderState;
  services: readonly ServiceEvent[];
  expecting: Expecting | null;
  cooling: Readonly<Record<string, Cooling>>;
  offAtMs: number | null;
  suspicion: SuspectsEvent | null;
  load: LoadInForce;
  procedure: ProcedureState | null;
  holds: Readonly<Record<string, Hold>>;
  cutOffs: readonly CutOffState[];
  readonly #before: WatchState;
  #points: PointState[] | null = null;
  #pointIndex: Readonly<Record<string, number>>;
  #channels: ChannelState[] | null = null;
  #instruments: InstrumentState[] | null = null;
  #effects: Effect[] | null = null;

  constructor(before: WatchState, atMs: number) {
    this.plan = before.plan;
    this.atMs = atMs > before.nowMs ? atMs : before.nowMs;
    this.alarms = before.alarms;
    this.raises = before.raises;
    this.recorder = before.recorder;
    this.services = before.services;
    this.expecting = before.expecting;
    this.cooling = before.cooling;
    this.offAtMs = before.offAtMs;
    this.suspicion = before.suspicion;
    this.load = before.load;
    this.procedure = before.procedure;
    this.holds = before.holds;
    this.cutOffs = before.cutOffs;
    this.#before = before;
    this.#pointIndex = before.pointIndex;
  }

  /** What is expected now; see `plan` for what was when the session began. */
  get prediction(): Prediction {
    return expectedPrediction(this.plan.prediction, this.expecting);
  }

  /** Whether any alarm changed in this event. */
  get alarmsChanged(): boolean {
    return this.alarms !== this.#before.alarms;
  }

  get points(): readonly PointState[] {
    return this.#points ?? this.#before.points;
  }

  get channels(): readonly ChannelState[] {
    return this.#channels ?? this.#before.channels;
  }

  get instruments(): readonly InstrumentState[] {
    return this.#instruments ?? this.#before.instruments;
  }

  /** Index of a channel of the plan, -1 when the plan doesn't know it. */
  channelAt(instrument: string, channel: string): number {
    const { channelIndex } = this.#before;
    if (!Object.hasOwn(channelIndex, instrument)) return -1;
    const ofInstrument = channelIndex[instrument] ?? {};
    return Object.hasOwn(ofInstrument, channel) ? (ofInstrument[channel] ?? -1) : -1;
  }

  /** Index of a test point, -1 when nothing was ever said about it. */
  pointAt(id: string): number {
    return Object.hasOwn(this.#pointIndex, id) ? (this.#pointIndex[id] ?? -1) : -1;
  }

  /** Remembers how long an alarm has been about to change; null: it isn't. */
  setHold(alarm: string, hold: Hold | null): void {
    if (hold !== null) this.holds = { ...this.holds, [alarm]: hold };
    else if (alarm in this.holds) {
      this.holds = Object.fromEntries(Object.entries(this.holds).filter(([id]) => id !== alarm));
    }
  }

  setPoint(at: number, point: PointState): void {
    this.#points ??= this.#before.points.slice();
    this.#points[at] = point;
  }

  /** Adds a test point that no prediction names; returns its index. */
  addPoint(point: PointState): number {
    const at = this.points.length;
    this.setPoint(at, point);
    this.#pointIndex = { ...this.#pointIndex, [point.id]: at };
    return at;
  }

  setChannel(at: number, channel: ChannelState): void {
    this.#channels ??= this.#before.channels.slice();
    this.#channels[at] = channel;
  }

  setInstrument(at: number, instrument: InstrumentState): void {
    this.#instruments ??= this.#before.instruments.slice();
    this.#instruments[at] = instrument;
  }

  tell(effect: Effect): void {
    this.#effects ??= [];
    this.#effects.push(effect);
  }

  finish(): { state: WatchState; effects: readonly Effect[] } {
    const state: WatchState = {
      plan: this.plan,
      nowMs: this.atMs,
      points: this.points,
      pointIndex: this.#pointIndex,
      channels: this.channels,
      channelIndex: this.#before.channelIndex,
      instruments: this.instruments,
      alarms: this.alarms,
      raises: this.raises,
      recorder: this.recorder,
      services: this.services,
      expecting: this.expecting,
      cooling: this.cooling,
      offAtMs: this.offAtMs,
      suspicion: this.suspicion,
      load: this.load,
      procedure: this.procedure,
      holds: this.holds,
      cutOffs: this.cutOffs,
    };
    return { state, effects: this.#effects ?? NO_EFFECTS };
  }
}

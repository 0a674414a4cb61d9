import type { Accuracy } from '../../design/bench.js';
import type { Prediction } from '../../predict/prediction.js';
import type {
  AlarmEffect,
  CutOffEffect,
  Effect,
  ForecastEffect,
  StepEffect,
  Verdict,
} from '../../watch/effects.js';
import type {
  CaptureEvent,
  ClockEvent,
  HookEvent,
  NoteEvent,
  ProbeEvent,
  SuspectsEvent,
  WatchEvent,
} from '../../watch/events.js';
import { expectedPrediction } from '../../watch/expected.js';
import type { Range } from '../../watch/forecast/forecast.js';
import type { ProcedureState } from '../../watch/procedure/procedure-state.js';
import type { InstrumentState, WatchState } from '../../watch/state.js';
import { capturePicture, type CapturePicture } from '../capture/picture.js';
import type { RecordingHeader } from '../header.js';
import type { OtherDesign } from '../other-design.js';
import type { RecordingItem } from '../parse.js';
import { replay } from '../replay.js';
import { Decimator, type Bucket } from './decimator.js';
import { LastStretch, type Settled } from './last-stretch.js';
import { SupplyOn } from './supply-on.js';

/** Finer than anybody sees on paper. */
const BUCKETS = 600;
/** Over how long a settled value is the mean. */
const SETTLED_OVER_MS = 30_000;
/** How soon after power-on a forecast counts as early. */
const EARLY_MS = 300_000;
/** So much of each list is kept; more is counted. */
const MOST_KEPT = 2000;

/** So many captures are drawn: the first ones, and as many of the last. */
const CAPTURES_AT_EACH_END = 6;

/** What one session measured at one test point. */
export interface PointHistory {
  readonly id: string;
  readonly buckets: readonly Bucket[];
  /** Over the last half minute in which the supply was on; null when it was never measured so. */
  readonly settled: Settled | null;
  /** The newest forecast within five minutes of power-on; null where there was none. */
  readonly early: EarlyForecast | null;
  /** The channel that measured last, and what its maker or the bench file says of its accuracy. */
  readonly instrument: string;
  readonly channel: string;
  readonly accuracy: Accuracy | undefined;
  /** The last verdict that was known while the supply was on. */
  readonly verdict: Verdict | null;
}

/** Where a temperature was said to be going. */
export interface EarlyForecast {
  readonly atMs: number;
  readonly settled: Range;
}

/** A whole session in bounded memory, judged by the core as it was live. */
export interface SessionHistory {
  readonly file: string;
  readonly header: RecordingHeader;
  /** What was expected at the end: for the load that was on then, sharpened by what was measured. */
  readonly expected: Prediction;
  /** When the first volts were seen; null when never, or none were measured. */
  readonly powerOnAtMs: number | null;
  readonly lengthMs: number;
  readonly readings: number;
  /** By test point, in the order of the prediction; only those that were measured. */
  readonly points: readonly PointHistory[];
  readonly alarms: readonly AlarmEffect[];
  /** How the power-up stood at the end; null in a session without one. */
  readonly procedure: ProcedureState | null;
  /** What its steps did, without each value that was kept. */
  readonly steps: readonly StepEffect[];
  readonly notes: readonly NoteEvent[];
  readonly probes: readonly ProbeEvent[];
  /** The first and the last of them, as they are drawn. */
  readonly captures: readonly CapturePicture[];
  readonly captureCount: number;
  readonly instruments: readonly InstrumentState[];
  /** What was weighed last; null when nothing was, and judged by another design. */
  readonly suspicion: SuspectsEvent | null;
  readonly clocks: readonly ClockEvent[];
  readonly cutOffs: readonly CutOffEffect[];
  /** Hooks that came to nothing. */
  readonly failedHooks: readonly HookEvent[];
  readonly problems: readonly Extract<RecordingItem, { kind: 'problem' }>[];
  /** Alarms that came out otherwise than they did live. */
  readonly mismatches: number;
  readonly closed: boolean;
}

/**
 * Reads a whole session, and runs it through the core.
 * @param against judges by this instead of what was predicted then
 * @throws {NotARecording} when the file can't be used.
 */
export async function readHistory(file: string, against?: OtherDesign): Promise<SessionHistory> {
  let collector: Collector | null = null;
  const problems: Extract<RecordingItem, { kind: 'problem' }>[] = [];
  const result = await replay(file, {
    speed: 'fast',
    ...(against !== undefined && { against }),
    onHeader: (header, state) => (collector = new Collector({ ...header, plan: state.plan }, state)),
    onEvent: (event, state, effects) => collector?.take(event, state, effects),
    onProblem: (problem) => keep(problems, problem),
  });
  // A recording without a header isn't one: `replay` has thrown then.
  const { lastAtMs, mismatches, closed } = result;
  const found = collected(collector);
  // Another design has other suspects.
  const suspicion = against === undefined ? found.suspicion : null;
  return { file, ...found, suspicion, lengthMs: lastAtMs, mismatches, closed, problems };
}

function collected(collector: Collector | null): ReturnType<Collector['result']> {
  if (collector === null) throw new Error('a recording without a header was replayed');
  return collector.result();
}

function keep<T>(list: T[], one: T): void {
  if (list.length < MOST_KEPT) list.push(one);
}

interface Measured {
  readonly decimator: Decimator;
  readonly last: LastStretch;
  instrument: string;
  channel: string;
  verdict: Verdict | null;
  early: EarlyForecast | null;
}

class Collector {
  readonly #header: RecordingHeader;
  readonly #on: SupplyOn;
  readonly #points = new Map<string, Measured>();
  readonly #alarms: AlarmEffect[] = [];
  readonly #steps: StepEffect[] = [];
  readonly #notes: NoteEvent[] = [];
  readonly #probes: ProbeEvent[] = [];
  readonly #captures: CapturePicture[] = [];
  readonly #clocks: ClockEvent[] = [];
  readonly #cutOffs: CutOffEffect[] = [];
  readonly #failedHooks: HookEvent[] = [];
  #captureCount = 0;
  #readings = 0;
  #suspicion: SuspectsEvent | null = null;
  #state: WatchState;

  constructor(header: RecordingHeader, state: WatchState) {
    this.#header = header;
    this.#state = state;
    this.#on = new SupplyOn(header.plan.prediction);
  }

  take(event: WatchEvent, state: WatchState, effects: readonly Effect[]): void {
    this.#state = state;
    if (event.kind === 'reading') this.#reading(event.instrument, event.channel, event.atMs);
    if (event.kind === 'note') keep(this.#notes, event);
    if (event.kind === 'probe') keep(this.#probes, event);
    if (event.kind === 'clock') keep(this.#clocks, event);
    if (event.kind === 'hook' && event.failed !== null) keep(this.#failedHooks, event);
    if (event.kind === 'capture') this.#capture(event);
    // Kept past a change of load: it was true of the supply then.
    if (event.kind === 'suspects') this.#suspicion = event;
    for (const effect of effects) {
      if (effect.kind === 'alarm') keep(this.#alarms, effect);
      if (effect.kind === 'cut-off') keep(this.#cutOffs, effect);
      if (effect.kind === 'forecast') this.#forecast(effect);
      if (effect.kind === 'step' && effect.change !== 'captured') keep(this.#steps, effect);
    }
  }

  #forecast({ atMs, point, forecast }: ForecastEffect): void {
    const measured = this.#points.get(point);
    const { firstOnAtMs } = this.#on;
    if (measured === undefined || forecast === null || firstOnAtMs === null) return;
    if (atMs - firstOnAtMs <= EARLY_MS) measured.early = { atMs, settled: forecast.settled };
  }

  result() {
    const { points } = this.#header.plan.prediction;
    const known = Object.keys(points).filter((id) => this.#points.has(id));
    return {
      header: this.#header,
      expected: expectedPrediction(this.#header.plan.prediction, this.#state.expecting),
      powerOnAtMs: this.#on.firstOnAtMs,
      readings: this.#readings,
      points: known.flatMap((id) => this.#pointHistory(id)),
      alarms: this.#alarms,
      procedure: this.#state.procedure,
      steps: this.#steps,
      notes: this.#notes,
      probes: this.#probes,
      clocks: this.#clocks,
      cutOffs: this.#cutOffs,
      failedHooks: this.#failedHooks,
      captures: this.#captures,
      captureCount: this.#captureCount,
      instruments: this.#state.instruments,
      suspicion: this.#suspicion,
    };
  }

  #capture(event: CaptureEvent): void {
    const picture = capturePicture(event);
    if (picture === null) return;
    this.#captureCount += 1;
    this.#captures.push(picture);
    if (this.#captures.length > 2 * CAPTURES_AT_EACH_END) this.#captures.splice(CAPTURES_AT_EACH_END, 1);
  }

  #pointHistory(id: string): PointHistory[] {
    const measured = this.#points.get(id);
    if (measured === undefined) return [];
    const { decimator, last, early, instrument, channel, verdict } = measured;
    const accuracy = this.#header.plan.channels.find(
      (one) => one.instrument === instrument && one.channel === channel,
    )?.accuracy;
    return [
      {
        id,
        buckets: decimator.buckets(),
        settled: last.settled(),
        early,
        instrument,
        channel,
        accuracy,
        verdict,
      },
    ];
  }

  /** Takes the value from the state: the core knows whether the reading counts, and in which unit. */
  #reading(instrument: string, channel: string, atMs: number): void {
    this.#readings += 1;
    const place = this.#state.channelIndex[instrument]?.[channel];
    const id = place === undefined ? undefined : this.#state.channels[place]?.point;
    const point = id == null ? undefined : this.#state.points[this.#state.pointIndex[id] ?? -1];
    if (point === undefined || point.channel !== place || point.value === null) return;
    const wasOn = this.#on.isOn;
    this.#on.take(point.id, atMs, point.value);
    if (wasOn && !this.#on.isOn) for (const { last } of this.#points.values()) last.switchedOff(atMs);
    const measured = this.#measured(point.id);
    measured.instrument = instrument;
    measured.channel = channel;
    measured.decimator.add(atMs, point.value);
    if (!this.#on.isOn) return;
    measured.last.add(atMs, point.value);
    measured.verdict = point.verdict ?? measured.verdict;
  }

  #measured(id: string): Measured {
    const known = this.#points.get(id);
    if (known !== undefined) return known;
    const fresh = {
      decimator: new Decimator(BUCKETS),
      last: new LastStretch(SETTLED_OVER_MS),
      instrument: '',
      channel: '',
      verdict: null,
      early: null,
    };
    this.#points.set(id, fresh);
    return fresh;
  }
}

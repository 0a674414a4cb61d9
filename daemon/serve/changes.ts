import type { WatchState } from '../watch/state.js';
import type {
  AlarmView,
  ChangesMessage,
  CutOffView,
  DemoView,
  InstrumentView,
  PointStanding,
  ProcedureView,
  RecorderView,
  TypingPlace,
} from './messages.js';
import { suspicionView } from './suspicion-view.js';
import { procedureView } from './procedure-view.js';
import { typingPlaces } from './typing.js';
import {
  alarmViews,
  expectedView,
  cutOffViews,
  instrumentViews,
  standings,
  typedChannels,
  type InstrumentLabel,
} from './views.js';

export type PageReading = ChangesMessage['readings'][number];
/** A message of changes before it has its place in a page's sequence. */
export type Changes = Omit<ChangesMessage, 'kind' | 'seq'>;

/** What stands beside the core's state on a page. */
export interface Surroundings {
  readonly recorderFile: string | null;
  readonly demo: DemoView | null;
}

/** Finds what changed since the pages were told last. */
export class ChangeFinder {
  readonly #labels: readonly InstrumentLabel[];
  /** By id and name: what a page that has had every message shows now. */
  #points: Map<string, PointStanding>;
  #instruments: Map<string, InstrumentView>;
  #alarms: Map<string, AlarmView>;
  #recorder: RecorderView;
  #suspicion: WatchState['suspicion'];
  #demo: DemoView | null;
  #expecting: WatchState['expecting'];
  #cutOffs: readonly CutOffView[];
  #typing: readonly TypingPlace[];
  #procedure: ProcedureView | null;

  constructor(state: WatchState, labels: readonly InstrumentLabel[], { recorderFile, demo }: Surroundings) {
    this.#labels = labels;
    this.#points = new Map(standings(state).map((point) => [point.id, point]));
    this.#instruments = new Map(instrumentViews(state, labels).map((view) => [view.name, view]));
    this.#alarms = new Map(alarmViews(state).map((view) => [view.id, view]));
    this.#recorder = recorderView(state, recorderFile);
    this.#suspicion = state.suspicion;
    this.#demo = demo;
    this.#expecting = state.expecting;
    this.#cutOffs = cutOffViews(state);
    this.#typing = typingPlaces(state, typedChannels(labels));
    this.#procedure = procedureView(state);
  }

  /** How a test point stood at the last `next`. */
  standing(point: string): PointStanding | undefined {
    return this.#points.get(point);
  }

  /** @param readings every reading since, in order. */
  next(state: WatchState, readings: readonly PageReading[], around: Surroundings): Changes {
    this.#showReadings(readings);
    const before = this.#points;
    this.#points = new Map(standings(state).map((point) => [point.id, point]));
    const points = changed(before, this.#points);
    const silent = points.filter((point) => fellSilent(before.get(point.id), point));
    const gaps = silent.map(({ id }): PageReading => [id, state.nowMs, null]);
    const isOther = state.expecting !== this.#expecting;
    this.#expecting = state.expecting;
    const extras = {
      ...this.#instrumentsAndAlarms(state),
      ...this.#surroundings(state, around),
      ...this.#newSuspicion(state),
    };
    return {
      nowMs: state.nowMs,
      readings: [...readings, ...gaps],
      leftOut: 0,
      ...(points.length > 0 && { points }),
      ...(isOther && { expected: expectedView(state) }),
      ...extras,
    };
  }

  /** A page shows a reading without being told its point's standing again. */
  #showReadings(readings: readonly PageReading[]): void {
    for (const [id, atMs, value] of readings) {
      const shown = this.#points.get(id);
      if (shown === undefined) continue;
      const mark = value === null ? (shown.mark ?? 'not-a-number') : null;
      this.#points.set(id, { ...shown, atMs, value, mark, stale: false });
    }
  }

  #instrumentsAndAlarms(state: WatchState): Partial<Changes> {
    const before = { instruments: this.#instruments, alarms: this.#alarms };
    this.#instruments = new Map(instrumentViews(state, this.#labels).map((view) => [view.name, view]));
    this.#alarms = new Map(alarmViews(state).map((view) => [view.id, view]));
    const instruments = changed(before.instruments, this.#instruments);
    const gone = [...before.alarms.values()].filter(({ id }) => !this.#alarms.has(id));
    const alarms = [
      ...changed(before.alarms, this.#alarms),
      ...gone.map((alarm): AlarmView => ({ ...alarm, state: 'normal' })),
    ];
    return { ...(instruments.length > 0 && { instruments }), ...(alarms.length > 0 && { alarms }) };
  }

  #newSuspicion(state: WatchState): Partial<Changes> {
    if (state.suspicion === this.#suspicion) return {};
    this.#suspicion = state.suspicion;
    return { suspicion: suspicionView(state) };
  }

  #surroundings(state: WatchState, { recorderFile, demo }: Surroundings): Partial<Changes> {
    const recorder = recorderView(state, recorderFile);
    const typing = typingPlaces(state, typedChannels(this.#labels));
    const procedure = procedureView(state);
    const cutOffs = cutOffViews(state);
    const told = {
      recorder: this.#recorder,
      demo: this.#demo,
      cutOffs: this.#cutOffs,
      typing: this.#typing,
      procedure: this.#procedure,
    };
    this.#procedure = procedure;
    this.#cutOffs = cutOffs;
    this.#typing = typing;
    this.#recorder = recorder;
    this.#demo = demo;
    return {
      ...(!same(told.recorder, recorder) && { recorder }),
      ...(demo !== null && !same(told.demo, demo) && { demo }),
      ...(!same(told.cutOffs, cutOffs) && { cutOffs }),
      ...(!same(told.typing, typing) && { typing }),
      ...(procedure !== null && !same(told.procedure, procedure) && { procedure }),
    };
  }
}

export function recorderView(state: WatchState, file: string | null): RecorderView {
  const { writing, why } = state.recorder;
  return { writing: writing === true, file, why };
}

/** A value stood there, and what comes next doesn't follow on from it. */
function fellSilent(before: PointStanding | undefined, now: PointStanding): boolean {
  if (before === undefined || before.value === null) return false;
  return (now.stale && !before.stale) || now.measuredBy !== before.measuredBy;
}

function changed<T>(before: ReadonlyMap<string, T>, now: ReadonlyMap<string, T>): T[] {
  return [...now].filter(([key, view]) => !same(before.get(key), view)).map(([, view]) => view);
}

/** Views are small plain data. */
function same(a: unknown, b: unknown): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

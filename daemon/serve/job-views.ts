import type { LoadState } from '../design/design.js';
import type { AlarmView, PointView } from './messages.js';

/** What the page is told of a job's folder and of its recordings, one JSON object an answer. */

/** The recordings of the folder, newest first. */
export interface JobListView {
  readonly folder: string;
  readonly recordings: readonly ListedView[];
  /** Older ones that aren't told. */
  readonly leftOut: number;
}

/** A recording as far as its first line and its size say. */
export interface ListedView {
  readonly file: string;
  /** Of its first file. */
  readonly bytes: number;
  /** Whether the running session is being written to it. */
  readonly running: boolean;
  /** Null: it can't be opened, for the reason in `why`. */
  readonly begun: BegunView | null;
  readonly why: string;
}

export interface BegunView {
  readonly design: string;
  readonly load: LoadState;
  /** ISO 8601 with its offset. */
  readonly startedAt: string;
}

/** What came out, found by reading all of it. */
export interface OutcomeView {
  readonly file: string;
  readonly lengthMs: number;
  /** Of all files of the session. */
  readonly bytes: number;
  readonly intact: boolean;
  /** `intact`, `cut off`, `changed since it was closed`. */
  readonly state: string;
  /** How many different alarms were raised. */
  readonly alarms: number;
  /** The gravest of them, in words as when it was worst; null without any. */
  readonly worst: { readonly priority: AlarmView['priority']; readonly sentence: string } | null;
}

/** A stretch of a recording, to be drawn. */
export interface RecordingView {
  readonly file: string;
  readonly running: boolean;
  readonly begun: BegunView;
  readonly lengthMs: number;
  readonly readings: number;
  /** The stretch that the curves span. */
  readonly fromMs: number;
  readonly toMs: number;
  /** The test points that were measured, in the order of the prediction, as they stood before the first reading. */
  readonly points: readonly PointView[];
  /** In the order of `points`. */
  readonly curves: readonly CurveView[];
  /** By test point: the bands that held, each from its time on. Only where others than the prediction's did. */
  readonly bands: Readonly<Record<string, readonly BandView[]>>;
  /** In order of time. */
  readonly marks: readonly MarkView[];
  readonly marksLeftOut: number;
  /** A sentence each: where the file is damaged. */
  readonly problems: readonly string[];
}

/** Columns of one length: for each stretch of time that has readings its lowest, mean and highest. */
export interface CurveView {
  /** Middle of the stretch, ms; ascending. */
  readonly atMs: readonly number[];
  readonly low: readonly number[];
  readonly mean: readonly number[];
  readonly high: readonly number[];
  /** Stretches farther apart than this have a gap between them, ms. */
  readonly gapMs: number;
}

export interface BandView {
  readonly fromMs: number;
  readonly low: number;
  readonly typical: number;
  readonly high: number;
}

/** Something that happened at a moment. */
export interface MarkView {
  readonly atMs: number;
  readonly kind: 'alarm' | 'over' | 'acknowledged' | 'probe' | 'note' | 'load' | 'step' | 'capture';
  /** Null: it is about the whole supply. */
  readonly point: string | null;
  readonly sentence: string;
}

/** How everything stood at a moment. */
export interface MomentView {
  readonly file: string;
  readonly atMs: number;
  readonly points: readonly PointView[];
  readonly alarms: readonly AlarmView[];
}

/** Two sessions over one axis, both aligned at their first volts. */
export interface CompareView {
  readonly before: ComparedSession;
  readonly after: ComparedSession;
  readonly sameDesign: boolean;
  readonly points: readonly ComparedPoint[];
}

export interface ComparedSession {
  readonly file: string;
  readonly begun: BegunView;
  readonly lengthMs: number;
  /** Null: no volts were seen, so it is aligned at its start. */
  readonly powerOnAtMs: number | null;
  /** A sentence for each alarm that was raised, each once. */
  readonly alarms: readonly string[];
  readonly problems: readonly string[];
}

export interface ComparedPoint {
  /** As it was predicted for the later session. */
  readonly point: PointView;
  /** What the difference is, or why there is none. */
  readonly sentence: string;
  /** Times from the first volts on; null where it wasn't measured. */
  readonly before: CurveView | null;
  readonly after: CurveView | null;
}

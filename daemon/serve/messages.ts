import type { AlarmState, Priority } from '../watch/alarm.js';
import type { Verdict } from '../watch/effects.js';
import type { NotePhoto } from '../watch/events.js';
import type { Feeding, StepKind } from '../procedure/step.js';
import type { Captured, StepStatus } from '../watch/procedure/procedure-state.js';
import type { LoadState, RectifierKind } from '../design/design.js';
import type { Advice, Limit, PointUnit } from '../predict/prediction.js';
import type { RippleFound, RippleMissing } from '../watch/ripple/ripple.js';

/**
 * What the daemon and the page say to each other, one JSON object a WebSocket text message. Every message of the
 * daemon carries `seq`, one more than the one before; a page that sees a gap asks for a new snapshot.
 */
export type DaemonMessage = SnapshotMessage | ChangesMessage | RefusedMessage;

/** The whole state: sent first on every connection, and on request. */
export interface SnapshotMessage {
  readonly kind: 'snapshot';
  readonly seq: number;
  readonly session: SessionView;
  readonly supply: SupplyView;
  readonly points: readonly PointView[];
  readonly instruments: readonly InstrumentView[];
  readonly alarms: readonly AlarmView[];
  /** What happened beside the readings, oldest first. */
  readonly marks: readonly MarkView[];
  /** The newest capture of each point. */
  readonly captures: readonly CaptureView[];
  readonly recorder: RecorderView;
  /** Null before anything has settled. */
  readonly suspicion: SuspicionView | null;
  /** Empty where the bench has no output that may be switched. */
  readonly cutOffs: readonly CutOffView[];
  readonly demo: DemoView | null;
  /** Where readings are typed, in the order of the design; empty without such an instrument. */
  readonly typing: readonly TypingPlace[];
  /** Null in a session without a power-up. */
  readonly procedure: ProcedureView | null;
  /**
   * The session of each point that has been measured, finer in its last minutes: times ascending; null value = a gap.
   */
  readonly history: Readonly<
    Record<string, { readonly atMs: readonly number[]; readonly value: readonly (number | null)[] }>
  >;
}

/** What changed since the message before: whole views of whatever changed, and every reading since. */
export interface ChangesMessage {
  readonly kind: 'changes';
  readonly seq: number;
  readonly nowMs: number;
  /** `[point id, atMs, value]` in order; null = the reading had no number. */
  readonly readings: readonly (readonly [string, number, number | null])[];
  /** Readings left out for this client because it was slow. */
  readonly leftOut: number;
  readonly points?: readonly PointStanding[];
  /** Other bands stand from now on: the load in force and every point's band, also of those that kept theirs. */
  readonly expected?: ExpectedView;
  readonly instruments?: readonly InstrumentView[];
  readonly alarms?: readonly AlarmView[];
  readonly recorder?: RecorderView;
  readonly suspicion?: SuspicionView | null;
  /** All of them, when one changed. */
  readonly cutOffs?: readonly CutOffView[];
  readonly demo?: DemoView;
  readonly typing?: readonly TypingPlace[];
  readonly procedure?: ProcedureView;
  /** Since the message before. */
  readonly marks?: readonly MarkView[];
  readonly captures?: readonly CaptureView[];
  readonly settled?: readonly SettledView[];
}

/** A command of the page that was not carried out, with the reason for a person. */
export interface RefusedMessage {
  readonly kind: 'refused';
  readonly seq: number;
  readonly why: string;
}

/** What is expected now. */
export interface ExpectedView {
  readonly load: LoadState;
  readonly bands: readonly BandView[];
}

export type BandView = Pick<PointView, 'id' | 'low' | 'typical' | 'high'>;

/** The parts as the design joins them. */
export interface SupplyView {
  readonly rectifier: RectifierKind;
  /** What feeds stands before what it feeds. */
  readonly blocks: readonly SupplyBlockView[];
}

export interface SupplyBlockView {
  /** As in the ids of its test points: `reservoir`, or the rail's name. */
  readonly part: string;
  readonly kind: 'mains' | 'transformer' | 'rectifier' | 'reservoir' | 'filter' | 'rail';
  /** The part that feeds it; null for the mains. */
  readonly from: string | null;
  /** What it is, in a few words: `15 V, 30 VA`. */
  readonly detail: string;
  readonly advice: readonly Pick<Advice, 'finding' | 'severity' | 'sentence' | 'cure'>[];
  readonly faults: readonly KnownFaultView[];
}

/** A fault that a part can have. */
export interface KnownFaultView {
  readonly fault: string;
  readonly title: string;
}

/** Something that happened at one moment and belongs into the charts. */
export interface MarkView {
  readonly atMs: number;
  readonly kind: 'alarm' | 'probe' | 'load' | 'step' | 'note';
  readonly words: string;
  /** The test point that it is about; null for all. */
  readonly point: string | null;
}

/** A sampled waveform as far as a screen shows it, and what it tells of the ripple. */
export interface CaptureView {
  readonly point: string;
  readonly atMs: number;
  readonly measuredBy: string;
  readonly unit: 'V' | 'A';
  readonly coupling: 'dc' | 'ac' | 'ground' | 'unknown';
  readonly samples: number;
  /** From its first to its last sample, s. */
  readonly lengthSeconds: number;
  /** Lowest and highest sample of each of as many columns, in `unit`: no peak is lost. */
  readonly lows: readonly number[];
  readonly highs: readonly number[];
  /** Null where nothing was looked for, as in amps. */
  readonly ripple: RippleFound | RippleMissing | null;
}

/** A test point's readings stand still on another value than before. */
export interface SettledView {
  readonly point: string;
  readonly atMs: number;
  /** In the point's unit, with one standard deviation. */
  readonly value: number;
  readonly standardUncertainty: number;
}

export interface SessionView {
  readonly design: string;
  readonly bench: string;
  readonly load: LoadState;
  readonly startedAt: string;
  readonly nowMs: number;
  /** Session time runs this many times faster than the wall's; 1 on a real bench. */
  readonly speed: number;
  /** False: this page was opened with the link that only looks. */
  readonly mayAct: boolean;
}

/** A test point: what was predicted and how it stands. */
export interface PointView extends PointStanding {
  readonly label: string;
  readonly unit: PointUnit;
  readonly low: number;
  readonly typical: number;
  readonly high: number;
  readonly limits: readonly Limit[];
  readonly formula: string;
}

export interface PointStanding {
  readonly id: string;
  /** Which channel is on it now, `meter volts`; null when nobody measures it. */
  readonly measuredBy: string | null;
  readonly value: number | null;
  readonly mark: 'overload' | 'not-a-number' | 'out-of-range' | null;
  readonly atMs: number | null;
  readonly verdict: Verdict | null;
  /** Its value doesn't stand still: the probe came a moment ago, it jumps, or it drifts. */
  readonly moving: 'probe-moved' | 'jumping' | 'drifting' | null;
  /** No reading for three intervals: the value must not be shown as good. */
  readonly stale: boolean;
  /** Where a temperature is going, 90 %; nothing: can't tell, or not a temperature with a limit. */
  readonly settles?: { readonly low: number; readonly typical: number; readonly high: number };
  /** How it stands to that: too wide to be told, or near enough that nobody sees it move; with a value only. */
  readonly going?: 'on-its-way' | 'arrived' | 'unsure';
  /** The slowest time constant of that way, 90 %, s. */
  readonly settlesWithin?: { readonly low: number; readonly typical: number; readonly high: number };
  /** A person reads its instrument and types what it shows. */
  readonly typed?: true;
}

/** A test point for which a person may type what an instrument shows. */
export interface TypingPlace {
  readonly point: string;
  readonly instrument: string;
  readonly channel: string;
  /** Whether the channel's probe is there; if not, it is moved before anything is typed. */
  readonly there: boolean;
}

export interface InstrumentView {
  readonly name: string;
  readonly driver: string;
  readonly link: string;
  readonly state: 'waiting' | 'open' | 'reading' | 'lost' | 'closed';
  readonly why: string;
  readonly identity: string | null;
  /** How much was dropped or refused, by kind of fault, and the newest in words. */
  readonly faults: Readonly<Record<string, number>>;
  readonly lastFault: string | null;
}

export interface AlarmView {
  readonly id: string;
  readonly priority: Priority;
  readonly state: AlarmState;
  readonly raisedAtMs: number;
  /** One sentence: what is wrong, with the numbers. */
  readonly sentence: string;
  /** The same, short enough to be spoken. */
  readonly spoken: string;
  /** What to do about it. */
  readonly cure: string;
  /** It began the trouble: nothing else of its group stood when it was raised. */
  readonly firstUp: boolean;
  /** The alarms that explain it, in their spoken words; empty where it stands for itself. */
  readonly explainedBy: readonly string[];
  readonly shelvedUntilMs: number | null;
  /** It may be put aside for so long at most. */
  readonly shelveMinutes: number;
}

/** An output that takes power away: whether an alarm may do so, and where it stands. */
export interface CutOffView {
  readonly output: string;
  readonly state: 'disarmed' | 'armed' | 'dropped';
  readonly sinceMs: number;
  /** What it said last of itself. */
  readonly position: 'on' | 'off' | 'unknown';
  /** Why it dropped, short: the alarm's spoken words, or its test; null where it hasn't dropped. */
  readonly why: string | null;
  /** Kinds of alarm and priorities that drop it; empty: none does. */
  readonly on: readonly string[];
  /** Test points whose alarms count; null: all of them. */
  readonly at: readonly string[] | null;
  /** It was told to take power away, and that hasn't been seen yet. */
  readonly isFalling: boolean;
  /** What it doesn't do, in words that stand beside its buttons. */
  readonly caution: string;
}

export interface RecorderView {
  readonly writing: boolean;
  readonly file: string | null;
  readonly why: string;
}

/** What the settled readings speak for. */
export interface SuspicionView {
  /** How many settled readings were weighed. */
  readonly from: number;
  /** The most probable first. */
  readonly suspects: readonly SuspectView[];
  /** Probability of something that isn't among the known faults. */
  readonly other: number;
  readonly next: { readonly point: string; readonly words: string } | null;
  /** A sentence for each reading that fits nothing, and where all fit another load better. */
  readonly odd: readonly string[];
  /** A sentence for each value that the readings tell about. */
  readonly parameters: readonly string[];
}

export interface SuspectView {
  readonly id: string;
  /** The part or rail that has it; empty for none. */
  readonly about: string;
  readonly title: string;
  /** 0 to 1. */
  readonly probability: number;
  /** False for the supply without a fault. */
  readonly isFault: boolean;
  /** A sentence each, the strongest first. */
  readonly evidence: readonly string[];
  readonly action: string;
}

/** The demo's simulated supply: which fault is switched in, and which there are. */
export interface DemoView {
  readonly fault: string;
  readonly faults: readonly { readonly name: string; readonly title: string }[];
}

/** The power-up as it stands. Live values are those of the test points. */
export interface ProcedureView {
  /** The step that is being done; null before the first. */
  readonly current: string | null;
  readonly ended: 'aborted' | 'signed' | null;
  readonly signedBy: string | null;
  /** What to do when it was broken off, in order. */
  readonly afterAbort: readonly string[];
  /** The step that `begin` would begin; null at the last. */
  readonly next: string | null;
  /** Why that can't begin yet; null when it can. */
  readonly whyNotNext: string | null;
  readonly steps: readonly StepView[];
}

export interface StepView {
  readonly id: string;
  readonly kind: StepKind;
  readonly title: string;
  readonly feeding: Feeding;
  readonly status: StepStatus;
  /** In order, each with the caution for the hand that does it. */
  readonly actions: readonly { readonly words: string; readonly caution: string | null }[];
  /** What must not be connected yet. */
  readonly notYet: readonly string[];
  readonly checks: readonly CheckView[];
  readonly points: readonly StepPointView[];
  /** What is wrong now, each in a sentence. */
  readonly failures: readonly string[];
  /** Where to look then. */
  readonly whenWrong: readonly string[];
  readonly beganAtMs: number | null;
  readonly endedAtMs: number | null;
  /** Of an override or an abort. */
  readonly reason: string | null;
}

export interface CheckView {
  readonly id: string;
  readonly ask: string;
  readonly caution: string | null;
  /** `0.30 Ω or less`. */
  readonly wanted: string;
  readonly answers: 'number' | 'yes-no';
  /** What the answer `-` says; null: it must be checked. */
  readonly waiver: string | null;
  readonly vital: boolean;
  readonly reason: string;
  readonly whenWrong: string;
  readonly answer: string | null;
  readonly inside: boolean | null;
}

export interface StepPointView {
  readonly point: string;
  readonly label: string;
  readonly unit: PointUnit;
  readonly low: number;
  readonly typical: number;
  readonly high: number;
  /** What it read when it stood still. */
  readonly captured: Captured | null;
}

/** What a page may do in the power-up; `step` is the one that it shows. */
export type StepMessage = { readonly kind: 'step'; readonly step: string } & (
  | { readonly action: 'begin' | 'back' }
  /** As a person types it: `0.12`, `5M`, `OL`, `yes`, `-`. */
  | { readonly action: 'answer'; readonly check: string; readonly text: string }
  | { readonly action: 'override' | 'abort'; readonly reason: string }
  | { readonly action: 'sign'; readonly name: string }
);

/** What a page may ask for. */
export type PageMessage =
  | { readonly kind: 'acknowledge'; readonly alarm: string }
  /** Puts it aside for so long; null: takes it up again. */
  | { readonly kind: 'shelve'; readonly alarm: string; readonly minutes: number | null }
  | {
      readonly kind: 'cut-off';
      readonly output: string;
      readonly order: 'arm' | 'disarm' | 'test' | 'on' | 'off';
      /** The person has the supply in sight and its switch within reach. */
      readonly inSight: boolean;
    }
  | { readonly kind: 'note'; readonly text: string; readonly photo?: NotePhoto }
  | {
      readonly kind: 'probe';
      readonly instrument: string;
      readonly channel: string;
      readonly point: string | null;
    }
  | {
      /** What a person read off an instrument, as they typed it: `12.03`, `45m`, `OL`. */
      readonly kind: 'typed';
      readonly instrument: string;
      readonly channel: string;
      readonly text: string;
    }
  /** How much the rails draw from now on. */
  | { readonly kind: 'load'; readonly load: LoadState }
  | StepMessage
  | { readonly kind: 'demo-fault'; readonly fault: string }
  | { readonly kind: 'snapshot' };

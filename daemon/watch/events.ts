import type { LoadState } from '../design/design.js';
import type { PointUnit } from '../predict/prediction.js';
import type { OtherLoad, Suspect } from './suspects/judgement.js';
import type { NextPoint } from './suspects/next-point.js';
import type { ParameterEstimate } from './suspects/parameters.js';

/**
 * Everything that can happen in a session, in order. The recording is this stream; `atMs` never goes back.
 * Nothing else reaches the core, so the same events give the same effects.
 */
export type WatchEvent =
  | ReadingEvent
  | CaptureEvent
  | InstrumentEvent
  | FaultEvent
  | ProbeEvent
  | AcknowledgeEvent
  | NoteEvent
  | RecorderEvent
  | LoadEvent
  | ExpectEvent
  | SuspectsEvent
  | StepEvent
  | ShelveEvent
  | CutOffEvent
  | OutputEvent
  | ClockEvent
  | HookEvent
  | ServiceEvent
  | StallEvent
  | TickEvent;

export interface ReadingEvent {
  readonly kind: 'reading';
  readonly atMs: number;
  readonly instrument: string;
  readonly channel: string;
  /** In `unit`; null exactly when `mark` is set. */
  readonly value: number | null;
  readonly unit: PointUnit;
  readonly mark?: 'overload' | 'not-a-number' | 'out-of-range';
}

/** One sampled waveform. Sample `i` is its count × `scale` + `offset`, taken at `startSeconds` + i × `stepSeconds`. */
export interface CaptureEvent {
  readonly kind: 'capture';
  readonly atMs: number;
  readonly instrument: string;
  readonly channel: string;
  /** Where the probe sat; null: nowhere. */
  readonly point: string | null;
  readonly unit: 'V' | 'A';
  /** Counts of so many bits, signed (`i`) or not (`u`). */
  readonly counts: 'i8' | 'u8' | 'i16' | 'u16';
  /** The counts in base64, little-endian. */
  readonly samples: string;
  readonly scale: number;
  readonly offset: number;
  /** From the trigger, s. */
  readonly startSeconds: number;
  readonly stepSeconds: number;
  /** `ac` has lost the mean, `ground` measures nothing. */
  readonly coupling: 'dc' | 'ac' | 'ground' | 'unknown';
}

/** An instrument changed state, or said what it is. */
export interface InstrumentEvent {
  readonly kind: 'instrument';
  readonly atMs: number;
  readonly instrument: string;
  readonly state: 'waiting' | 'open' | 'reading' | 'lost' | 'closed';
  readonly why: string;
  readonly path?: string;
  readonly identity?: string;
}

/** An instrument sent something that was dropped, or refused a command. `count` is the total so far. */
export interface FaultEvent {
  readonly kind: 'fault';
  readonly atMs: number;
  readonly instrument: string;
  readonly code: string;
  readonly count: number;
  readonly detail: string;
}

/** A channel's probe was put on a test point, or taken off (`point` null). */
export interface ProbeEvent {
  readonly kind: 'probe';
  readonly atMs: number;
  readonly instrument: string;
  readonly channel: string;
  readonly point: string | null;
}

export interface AcknowledgeEvent {
  readonly kind: 'acknowledge';
  readonly atMs: number;
  readonly alarm: string;
}

export interface NoteEvent {
  readonly kind: 'note';
  readonly atMs: number;
  readonly text: string;
  readonly photo?: NotePhoto;
}

/** A picture that goes with a note. */
export interface NotePhoto {
  readonly type: 'image/jpeg' | 'image/png';
  readonly base64: string;
}

/** Whether the recording is being written. */
export interface RecorderEvent {
  readonly kind: 'recorder';
  readonly atMs: number;
  readonly writing: boolean;
  readonly why: string;
}

/** A person says how much the rails draw from now on. */
export interface LoadEvent {
  readonly kind: 'load';
  readonly atMs: number;
  readonly load: LoadState;
}

/**
 * Other bands stand from now on, because the load is another, a step of the power-up began, or something measured
 * made the prediction sharper. They come from outside: working them out takes too long to be done between readings.
 */
export interface ExpectEvent {
  readonly kind: 'expect';
  readonly atMs: number;
  readonly load: LoadState;
  /** The step of the power-up for which they hold; null outside of one. */
  readonly step: string | null;
  /** Test points whose measured values made them sharper. */
  readonly measured: readonly string[];
  /** By test point, in its unit. A point that isn't named keeps the session's prediction. */
  readonly bands: Readonly<Record<string, ExpectedBand>>;
}

export interface ExpectedBand {
  readonly low: number;
  readonly typical: number;
  readonly high: number;
  /** Of a temperature: the coldest it may be when power comes on. */
  readonly coldest?: number;
}

/** What the settled readings speak for. Comes from outside: weighing them takes too long to be done between readings. */
export interface SuspectsEvent {
  readonly kind: 'suspects';
  readonly atMs: number;
  /** Test points whose settled readings were weighed. */
  readonly from: readonly string[];
  /** The most probable first; only those that are worth telling. */
  readonly suspects: readonly Suspect[];
  /** Probability of something that isn't among the known faults. */
  readonly other: number;
  /** Where to probe next; null where no probe would tell much more. */
  readonly next: NextPoint | null;
  /** Points whose reading fits nothing. */
  readonly odd: readonly string[];
  readonly parameters: readonly ParameterEstimate[];
  /** Another load than the one that is said to be on, for which the readings speak more; recordings of earlier versions don't say. */
  readonly otherLoad?: OtherLoad | null;
}

/** What a person does in the power-up; `step` is the one that it is meant for. */
export type StepEvent = { readonly kind: 'step'; readonly atMs: number; readonly step: string } & StepAction;

export type StepAction =
  /** Goes on to this step; the one before is done. */
  | { readonly action: 'begin' }
  | { readonly action: 'answer'; readonly check: string; readonly answer: StepAnswer }
  /** Lets the next step begin all the same. */
  | { readonly action: 'override'; readonly reason: string }
  /** Back to the step before, to do it anew. */
  | { readonly action: 'back' }
  | { readonly action: 'abort'; readonly reason: string }
  | { readonly action: 'sign'; readonly name: string };

/** A number in the check's unit; `open`: a meter shows more than it can; `waived`: there is nothing to check. */
export type StepAnswer = number | 'yes' | 'no' | 'open' | 'waived';
/** A person puts an alarm aside until then, or takes it up again (null). */
export interface ShelveEvent {
  readonly kind: 'shelve';
  readonly atMs: number;
  readonly alarm: string;
  readonly untilMs: number | null;
}

/** `arm` also arms again after it has dropped. */
export const CUT_OFF_ORDERS = ['arm', 'disarm', 'test', 'on', 'off'] as const;
export type CutOffOrder = (typeof CUT_OFF_ORDERS)[number];

/** What a person wants of an output that takes power away. */
export interface CutOffEvent {
  readonly kind: 'cut-off';
  readonly atMs: number;
  readonly output: string;
  readonly order: CutOffOrder;
  /** They say that they have the supply in sight and its switch within reach. */
  readonly inSight: boolean;
}

/** What came of switching an output: it says that it is there, or why it isn't. Or it went there by itself. */
export interface OutputEvent {
  readonly kind: 'output';
  readonly atMs: number;
  readonly output: string;
  /** What was asked for, or where it says that it is. */
  readonly position: 'on' | 'off';
  readonly failed: string | null;
}

/** The computer's date no longer fits the time that has passed, or nothing ran for a while. */
export interface ClockEvent {
  readonly kind: 'clock';
  readonly atMs: number;
  /** ISO 8601: what the clock would have shown, and what it showed. */
  readonly was: string;
  readonly is: string;
  /** So long perhaps nobody watched, ms. Recordings of earlier versions don't say. */
  readonly unwatchedMs?: number;
}

/** A hook was run for an alarm; `failed` says why it came to nothing. */
export interface HookEvent {
  readonly kind: 'hook';
  readonly atMs: number;
  readonly hook: string;
  readonly alarm: string;
  readonly failed: string | null;
}

/** What works beside the watching: `page` tells it to the pages, `suspects` weighs, `bands` works out what is expected. */
export const SERVICES = ['bands', 'suspects', 'recordings', 'page', 'hook', 'terminal'] as const;
export type Service = (typeof SERVICES)[number];

/** Something that works beside the watching stopped, or works again. */
export interface ServiceEvent {
  readonly kind: 'service';
  readonly atMs: number;
  readonly service: Service;
  /** Which one, where there are several: a hook's name; else empty. */
  readonly name: string;
  readonly working: boolean;
  readonly why: string;
}

/** The program was too busy, or held, to do anything for so long. */
export interface StallEvent {
  readonly kind: 'stall';
  readonly atMs: number;
  readonly stalledMs: number;
}

/** Time passes. Comes at least four times a second of session time. */
export interface TickEvent {
  readonly kind: 'tick';
  readonly atMs: number;
}

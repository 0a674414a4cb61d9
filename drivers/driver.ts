import type { Clock } from './clock.js';
import type { Link } from './link.js';

/** What a channel measures; each kind has one unit (see units.ts). */
export type Measurand =
  'dc-volts' | 'ac-volts' | 'dc-amps' | 'ac-amps' | 'ohms' | 'temperature' | 'frequency';

/** `Vrms` is the RMS of the AC part; `Vpp` is peak to peak, as computed from a capture. */
export type Unit = 'V' | 'Vrms' | 'Vpp' | 'A' | 'Arms' | 'ohm' | 'degC' | 'Hz' | 'W';

/** One thing that an instrument measures, as the bench file names it. */
export interface ChannelSpec {
  readonly name: string;
  readonly measures: Measurand;
}

/** Why a reading has no number. A mark is never stored as a number. */
export type ReadingMark = 'overload' | 'not-a-number' | 'out-of-range';

/** Samples as the instrument sent them: a view on the received bytes. */
export type Samples = Int8Array | Uint8Array | Int16Array | Uint16Array;

/** How the input was joined to what it measured: `ac` has lost the mean, `ground` measures nothing. */
export type Coupling = 'dc' | 'ac' | 'ground' | 'unknown';

/** One sampled waveform. Sample `i` is `samples[i] * scale + offset` in `unit`, taken at `startSeconds + i * stepSeconds`. */
export interface Capture {
  /** When the last byte arrived, ms. */
  readonly atMs: number;
  readonly channel: string;
  readonly unit: 'V' | 'A';
  /** Belongs to the receiver. */
  readonly samples: Samples;
  readonly scale: number;
  readonly offset: number;
  /** When the first sample was taken, from the trigger, s. */
  readonly startSeconds: number;
  readonly stepSeconds: number;
  readonly coupling: Coupling;
  /** What the instrument takes the probe for, 10 for a 10:1 probe, counted into `scale`; null when it doesn't say. */
  readonly attenuation: number | null;
  /** Captures of one acquisition have the same number. */
  readonly acquisition: number;
}

/** What a driver reports. Every event carries the time at which its last byte arrived. */
export type InstrumentEvent =
  | {
      readonly kind: 'reading';
      readonly atMs: number;
      readonly channel: string;
      /** Finite, in `unit`; null exactly when `mark` is set. */
      readonly value: number | null;
      readonly unit: Unit;
      readonly mark?: ReadingMark;
    }
  | {
      readonly kind: 'state';
      readonly atMs: number;
      readonly state: InstrumentState;
      readonly why: string;
      readonly path?: string;
    }
  /** What the instrument says it is (`*IDN?`), trimmed, at most 200 characters, printable only. */
  | { readonly kind: 'identity'; readonly atMs: number; readonly text: string }
  /** Something was dropped or refused. `count` is how many such faults this instrument has had so far. */
  | {
      readonly kind: 'fault';
      readonly atMs: number;
      readonly code: FaultCode;
      readonly count: number;
      /** At most 200 printable characters: what came, where, and what was expected. */
      readonly detail: string;
    };

/**
 * - `waiting`: no device yet, still trying. `open`: connected, nothing understood so far.
 * - `reading`: good readings come in. `lost`: went away. `closed`: stopped by us.
 */
export type InstrumentState = 'waiting' | 'open' | 'reading' | 'lost' | 'closed';

export type FaultCode =
  | 'line-too-long'
  | 'not-text'
  | 'not-understood'
  | 'no-answer'
  | 'late-answer'
  | 'instrument-error'
  | 'write-failed'
  | 'wrong-device';

export interface DriverContext {
  readonly instrument: string;
  readonly link: Link;
  readonly channels: readonly ChannelSpec[];
  /** The driver's own settings as the bench file has them, already checked with the driver's `checkOptions`. */
  readonly options: unknown;
  readonly clock: Clock;
  /** Never throws. Readings are for channels in `channels` only. */
  readonly emit: (event: InstrumentEvent) => void;
  /** Takes captures, from drivers that make them. Never throws. Captures are for channels in `channels` only. */
  readonly onCapture?: (capture: Capture) => void;
}

export interface RunningInstrument {
  /** Stops asking, closes the link; resolves when the device is released. */
  stop(): Promise<void>;
}

/** A kind of instrument. A driver turns a link's bytes into events and does nothing else. */
export interface Driver {
  /** The word in the bench file, lower case with hyphens. */
  readonly name: string;
  /** One line for a person: which devices this reads. */
  readonly reads: string;
  /** The channels this driver finds in its own options (a pattern's names, say) when the bench file lists none. */
  channelsOf(options: unknown): readonly ChannelSpec[];
  /** Checks the options; returns the problems in words, each naming its key, what was found and what is allowed. */
  checkOptions(options: unknown): readonly OptionProblem[];
  /** The longest time between two readings of one channel when all is well, in ms. */
  intervalMs(options: unknown): number;
  /** Wants to know the link's bits per second: given as the option `baud` unless the bench file says another. */
  readonly wantsBaud?: true;
  /** Sends captures: its channels show ripple and valley wherever they sit on volts. */
  readonly captures?: true;
  /** A person types its readings, so it has no link in the bench file and is never overdue. */
  readonly typed?: TypedEntry;
  /** Starts reading. Nothing is thrown past `start`; trouble is an event. */
  start(context: DriverContext): RunningInstrument;
}

/** How a person's typing goes to a driver. */
export interface TypedEntry {
  /** Why this is no reading of such a channel, with the cure; null when it is one. */
  whyNot(typed: string, measures: Measurand): string | null;
  /** What goes over the instrument's link for it. */
  line(channel: string, typed: string): Uint8Array;
}

export interface OptionProblem {
  readonly key: string;
  readonly found: unknown;
  readonly allowed: string;
}

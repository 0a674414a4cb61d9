import type { Clock } from '../clock.js';
import type { InstrumentEvent, OptionProblem } from '../driver.js';
import type { Link } from '../link.js';

/** Whether power passes, as the device said last; `unknown` before it has said anything and after a loss. */
export type Position = 'on' | 'off' | 'unknown';

/**
 * An output that lets power through or not. It replaces no fuse and no switch that a person can reach: a contact can
 * weld, a cable can fall out, a program can stop.
 */
export interface Output {
  readonly position: Position;
  /** Lets power through. Resolves once the device says so; rejects with what is wrong and the cure. */
  on(): Promise<void>;
  /** Takes power away, trying more than once. Resolves once the device says so; rejects as `on` does. */
  off(): Promise<void>;
  /**
   * Says that whoever decides is alive; to be called more often than the output's interval. While power is on, the
   * device hears of it at that interval, and one that listens for it takes power away by itself when it ends. It is asked
   * for its position at that interval, and told as lost once it answers nothing.
   */
  keepAlive(): void;
  /** Takes power away if it was let through, and closes the link. Never rejects. */
  stop(): Promise<void>;
}

/** What an output tells, in the same shapes as an instrument: its state with the position in words, and its faults. */
export type OutputEvent = Extract<InstrumentEvent, { readonly kind: 'state' | 'fault' }>;

export interface OutputContext {
  readonly link: Link;
  /** As the bench file has them, already checked with the driver's `checkOptions`. */
  readonly options: unknown;
  readonly clock: Clock;
  /** Never throws. */
  readonly emit: (event: OutputEvent) => void;
}

/** A kind of output. */
export interface OutputDriver {
  /** The word in the bench file, lower case with hyphens. */
  readonly name: string;
  /** One line for a person: which devices this switches. */
  readonly switches: string;
  /** The problems in words, each naming its key, what was found and what is allowed. */
  checkOptions(options: unknown): readonly OptionProblem[];
  /** Opens the link and switches nothing. Nothing is thrown past `start`; trouble is an event. */
  start(context: OutputContext): Output;
}

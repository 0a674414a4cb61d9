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
  /** Lets power through. Resolves once the device says so; rejects with what is wrong and the cure, or as `Superseded`. */
  on(): Promise<void>;
  /** Takes power away, trying more than once. Resolves once the device says so; rejects as `on` does. */
  off(): Promise<void>;
  /**
   * Says that whoever decides is alive; to be called more often than the output's interval. While power is on, the
   * device hears of it at that interval, and one that listens for it takes power away by itself when it ends. It is asked
   * for its position at that interval, and told as lost once it answers nothing.
   */
  keepAlive(): void;
  /**
   * Takes power away if it was let through, and closes the link. Never rejects. Resolves with why power may pass all the
   * same and the cure; null: it was never let through by us, or the device says that it is gone.
   */
  stop(): Promise<string | null>;
}

/** The device says that it is elsewhere than where it was told to be, or at last where it didn't say that it went. */
export interface PositionEvent {
  readonly kind: 'position';
  readonly atMs: number;
  readonly position: 'on' | 'off';
}

/** What an output tells: its state with the position in words, its faults, and moves that nobody is waiting for. */
export type OutputEvent = Extract<InstrumentEvent, { readonly kind: 'state' | 'fault' }> | PositionEvent;

/** An order that another one took the place of before the device answered: no failure of the device. */
export class Superseded extends Error {
  override readonly name = 'Superseded';

  constructor(linkName: string) {
    super(`${linkName}: something else was asked for before it answered`);
  }
}

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

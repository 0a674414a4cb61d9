import type { Clock } from '../clock.js';
import type { FaultCode } from '../driver.js';
import type { FaultTeller } from '../fault-teller.js';
import { printable } from '../printable.js';

/** Boards that restart when their port opens greet within this time; common practice. */
const GREETING_MS = 5000;
const SHOWN_CHARACTERS = 60;

/**
 * Counts faults as the teller behind it does, and remembers what came between the opening of the port and the first
 * reading, so that a person learns what those faults were.
 */
export class StartUp implements FaultTeller {
  readonly #clock: Clock;
  readonly #faults: FaultTeller;
  #openedMs = 0;
  #lines = 0;
  #first = '';

  constructor(clock: Clock, faults: FaultTeller) {
    this.#clock = clock;
    this.#faults = faults;
  }

  /** The port has opened. */
  begin(): void {
    this.#openedMs = this.#clock.nowMs();
    this.#lines = 0;
  }

  count(code: FaultCode, saying: string, quoting?: string): void {
    if (this.#lines === 0) this.#first = printable(quoting ?? saying, SHOWN_CHARACTERS);
    this.#lines += 1;
    this.#faults.count(code, saying, quoting);
  }

  tell(code: FaultCode, saying: string, quoting?: string): void {
    this.#faults.tell(code, saying, quoting);
  }

  stop(): void {
    this.#faults.stop();
  }

  /** Why there are readings now. */
  inWords(): string {
    const came = 'readings come in';
    if (this.#lines === 0 || this.#clock.nowMs() - this.#openedMs > GREETING_MS) return came;
    const lines = this.#lines === 1 ? 'a line' : `${this.#lines} lines`;
    return `${came}, after ${lines} of something else ("${this.#first}"): some boards restart when their port opens`;
  }
}

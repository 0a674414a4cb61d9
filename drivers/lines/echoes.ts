/** A device that echoes does so before it answers anything later, so that few are ever awaited. */
const MOST_AWAITED = 64;

/** Tells the echo of what was sent from what a device says: some lines and devices send back all that they hear. */
export class Echoes {
  #awaited: readonly string[] = [];

  /** Notes a message that is sent. */
  sent(message: string): void {
    this.#awaited = [...this.#awaited, message.trim()].slice(-MOST_AWAITED);
  }

  /** Whether a line is the echo of a message; those sent before it were not echoed or have been. */
  take(line: string): boolean {
    const at = this.#awaited.indexOf(line.trim());
    if (at >= 0) this.#awaited = this.#awaited.slice(at + 1);
    return at >= 0;
  }
}

import type { Clock } from '../clock.js';
import type { Link, LinkListener } from '../link.js';
import { LinkNotOpen } from './link-not-open.js';

/** One connection to a device, from a successful open to its loss or close. Never reused. */
export interface Connection {
  /** Where the device was found this time. */
  readonly path: string;
  /** Rejects when the bytes can't be handed to the device. */
  write(bytes: Uint8Array): Promise<void>;
  /** Releases the device. Resolves when it is released; never rejects. */
  close(): Promise<void>;
}

export interface ConnectionListener {
  onBytes(chunk: Uint8Array): void;
  /** The device went away without our doing. May be called more than once; only the first counts. */
  onLost(why: string): void;
}

/** How one kind of link gets a connection. Holds nothing between two calls. */
export interface Connector {
  readonly name: string;
  /**
   * Makes a new connection. Rejects with an error whose message says in plain words what stands in the way
   * and the cure. Gives up soon after `signal` aborts.
   */
  connect(listener: ConnectionListener, signal: AbortSignal): Promise<Connection>;
}

export const FIRST_RETRY_MS = 100;
/** One second, so that a device plugged back after a long absence is read again within two. */
export const LONGEST_RETRY_MS = 1000;
/** A device that takes no bytes must not make us keep them without bound. */
const MOST_UNSENT_BYTES = 64 * 1024;

/** Turns a connector into a link that opens by itself and opens again after every loss. */
export function reopeningLink(connector: Connector, clock: Clock): Link {
  return new ReopeningLink(connector, clock);
}

class ReopeningLink implements Link {
  readonly name: string;
  readonly #connector: Connector;
  readonly #clock: Clock;
  readonly #stopping = new AbortController();
  #listener: LinkListener | null = null;
  #connection: Connection | null = null;
  #attempt: Promise<void> = Promise.resolve();
  #closing: Promise<void> = Promise.resolve();
  #cancelRetry: () => void = () => undefined;
  #retryMs = FIRST_RETRY_MS;
  #wasOpen = false;
  #toldWhy: string | null = null;
  #unsentBytes = 0;
  #stopped: Promise<void> | null = null;

  constructor(connector: Connector, clock: Clock) {
    this.name = connector.name;
    this.#connector = connector;
    this.#clock = clock;
  }

  start(listener: LinkListener): void {
    this.#listener = listener;
    this.#attempt = this.#open();
  }

  async write(bytes: Uint8Array): Promise<void> {
    const connection = this.#connection;
    if (connection === null) throw new LinkNotOpen(this.name);
    if (this.#unsentBytes + bytes.length > MOST_UNSENT_BYTES) {
      throw new Error(
        `${this.name} takes no bytes (${this.#unsentBytes} still unsent); check its cable and flow control`,
      );
    }
    this.#unsentBytes += bytes.length;
    try {
      await connection.write(bytes);
    } finally {
      if (connection === this.#connection) this.#unsentBytes -= bytes.length;
    }
  }

  stop(): Promise<void> {
    this.#stopped ??= this.#release();
    return this.#stopped;
  }

  async #release(): Promise<void> {
    this.#stopping.abort();
    this.#cancelRetry();
    const connection = this.#connection;
    this.#connection = null;
    await connection?.close();
    await this.#attempt;
    await this.#closing;
    this.#listener?.onState({ kind: 'closed' });
  }

  /** Never rejects: what goes wrong is told as `waiting`. */
  async #open(): Promise<void> {
    const life = new ConnectionLife();
    try {
      await this.#closing; // the old connection must be gone before the same device is opened again
      const connection = await this.#connector.connect(this.#listenerFor(life), this.#stopping.signal);
      await this.#take(connection, life);
    } catch (cause) {
      if (this.#stopping.signal.aborted) return;
      this.#tellWaiting(cause instanceof Error ? cause.message : String(cause));
      this.#retryLater();
    }
  }

  async #take(connection: Connection, life: ConnectionLife): Promise<void> {
    if (this.#stopping.signal.aborted) return connection.close();
    if (life.lostWhy !== null) {
      await connection.close();
      throw new Error(life.lostWhy);
    }
    life.connection = connection;
    this.#connection = connection;
    this.#unsentBytes = 0;
    this.#retryMs = FIRST_RETRY_MS;
    this.#toldWhy = null;
    const kind = this.#wasOpen ? 'back' : 'open';
    this.#wasOpen = true;
    this.#listener?.onState({ kind, path: connection.path });
    for (const chunk of life.takeEarly()) this.#listener?.onBytes(chunk);
  }

  #listenerFor(life: ConnectionLife): ConnectionListener {
    return {
      onBytes: (chunk) => {
        if (life.connection === null) life.keepEarly(chunk);
        else if (life.connection === this.#connection) this.#listener?.onBytes(chunk);
      },
      onLost: (why) => {
        life.lostWhy ??= why;
        if (life.connection !== null && life.connection === this.#connection)
          this.#lose(life.connection, why);
      },
    };
  }

  #lose(connection: Connection, why: string): void {
    this.#connection = null;
    this.#closing = connection.close();
    this.#listener?.onState({ kind: 'lost', why });
    this.#retryLater();
  }

  #retryLater(): void {
    if (this.#stopping.signal.aborted) return;
    const delayMs = this.#retryMs;
    this.#retryMs = Math.min(2 * delayMs, LONGEST_RETRY_MS);
    this.#cancelRetry = this.#clock.after(delayMs, () => {
      this.#attempt = this.#open();
    });
  }

  /** The same reason is told once, however often the retry fails. */
  #tellWaiting(why: string): void {
    if (why === this.#toldWhy) return;
    this.#toldWhy = why;
    this.#listener?.onState({ kind: 'waiting', why });
  }
}

/** Ties what a connector reports to the connection that it belongs to, even before that is handed over. */
class ConnectionLife {
  connection: Connection | null = null;
  lostWhy: string | null = null;
  #early: Uint8Array[] = [];

  /** Bytes that came between the open and the hand-over: one or two chunks, never more than a turn of the loop. */
  keepEarly(chunk: Uint8Array): void {
    this.#early.push(chunk);
  }

  takeEarly(): readonly Uint8Array[] {
    const early = this.#early;
    this.#early = [];
    return early;
  }
}

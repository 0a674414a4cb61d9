import type { ChangesMessage, PageMessage } from '../daemon/serve/messages.js';
import { Tracks } from './chart/tracks.js';
import { parseMessage } from './parse-message.js';
import { INITIAL_STATE, reduce, type PageEvent, type PageState } from './session-state.js';

/** One connection to the daemon. */
export interface LiveSocket {
  send(text: string): void;
  close(): void;
}

export interface SocketHandlers {
  readonly text: (data: unknown) => void;
  /** `reason` is what the other side said, or empty. */
  readonly closed: (reason: string) => void;
}

/** What the link needs of the world, so that tests can bring their own clock and socket. */
export interface LiveEnvironment {
  openSocket(handlers: SocketHandlers): LiveSocket;
  /** Monotonic milliseconds. */
  now(): number;
  /** Runs `run` after `ms`; the returned function calls it off. */
  after(ms: number, run: () => void): () => void;
  /** Runs `run` before the screen's next frame; the returned function calls it off. May never run while hidden. */
  beforeFrame(run: () => void): () => void;
}

const BACK_OFF_MS = [200, 400, 800, 1600, 3000] as const;
const WATCHDOG_MS = 500;
/** After this silence the page asks; after the next one without an answer it is no longer live. */
const ASK_AFTER_MS = 2500;
const LOST_AFTER_MS = 5000;
/** A page that isn't painted has no frames, but still speaks and sounds. */
const HIDDEN_MS = 150;

/** What a person must see at once. */
function isGrave({ alarms = [], cutOffs }: Pick<ChangesMessage, 'alarms' | 'cutOffs'>): boolean {
  return alarms.length > 0 || cutOffs !== undefined;
}

/** How long to wait before connection attempt `attempt` (0 = the first after a loss), in ms. */
export function backOffMs(attempt: number): number {
  return BACK_OFF_MS[Math.min(attempt, BACK_OFF_MS.length - 1)] ?? 3000;
}

/**
 * Keeps the page joined to the daemon: connects, reconnects with back-off, asks for a snapshot when something
 * was missed, and takes silence for what it is. `onChange` is called after the state changed: once a frame for
 * readings, at once for what is grave.
 */
export class LiveLink {
  readonly tracks = new Tracks();
  #environment: LiveEnvironment;
  #onChange: () => void;
  #state = INITIAL_STATE;
  #socket: LiveSocket | null = null;
  #attempt = 0;
  #askedAtMs = -Infinity;
  #connectingSinceMs = 0;
  #nextFrame: (() => void) | null = null;
  #timers = new Set<() => void>();

  constructor(environment: LiveEnvironment, onChange: () => void) {
    this.#environment = environment;
    this.#onChange = onChange;
  }

  get state(): PageState {
    return this.#state;
  }

  get wallMs(): number {
    return this.#environment.now();
  }

  start(): void {
    this.#connect();
    this.#watch();
  }

  stop(): void {
    for (const callOff of this.#timers) callOff();
    this.#timers.clear();
    this.#nextFrame = null;
    const socket = this.#socket;
    this.#socket = null;
    socket?.close();
  }

  /** Sends a command; false when the page isn't live, so that nothing is done later by surprise. */
  send(message: PageMessage): boolean {
    if (!this.#socket || this.#state.link.kind !== 'live') return false;
    this.#socket.send(JSON.stringify(message));
    return true;
  }

  /** The person has read what was refused. */
  putRefusalsAway(): void {
    this.#apply({ kind: 'refusals-read' });
    this.#tellNow();
  }

  #connect(): void {
    this.#askedAtMs = -Infinity;
    this.#connectingSinceMs = this.wallMs;
    this.#apply({ kind: 'connecting' });
    const socket = this.#environment.openSocket({
      text: (data) => this.#socket === socket && this.#take(data),
      closed: (reason) => this.#socket === socket && this.#lose(reason),
    });
    this.#socket = socket;
    this.#tellNow();
  }

  #take(data: unknown): void {
    const message = parseMessage(data);
    if (!message) {
      this.#apply({ kind: 'unreadable-message' });
      this.#askIfNeeded();
      return;
    }
    const wasLive = this.#state.link.kind === 'live';
    this.#apply({ kind: 'message', wallMs: this.wallMs, message });
    if (this.#state.link.kind === 'live') this.tracks.take(message);
    if (message.kind === 'snapshot') this.#attempt = 0;
    this.#askIfNeeded();
    const urgent = !wasLive || message.kind === 'refused' || isGrave(message);
    if (urgent) this.#tellNow();
    else this.#tellOnceAFrame();
  }

  #askIfNeeded(): void {
    if (this.#state.wantsSnapshot) this.#ask();
  }

  /** Asks for a snapshot, unless that was done a moment ago. */
  #ask(): void {
    if (this.wallMs - this.#askedAtMs < ASK_AFTER_MS) return;
    this.#askedAtMs = this.wallMs;
    this.#socket?.send(JSON.stringify({ kind: 'snapshot' } satisfies PageMessage));
  }

  #lose(reason: string): void {
    const socket = this.#socket;
    this.#socket = null;
    socket?.close();
    const waitMs = backOffMs(this.#attempt);
    this.#attempt += 1;
    this.#apply({ kind: 'closed', reason });
    this.#later(waitMs, () => this.#connect());
    this.#tellNow();
  }

  #watch(): void {
    this.#later(WATCHDOG_MS, () => this.#watch());
    if (this.#state.link.kind !== 'live') {
      if (this.#socket && this.wallMs - this.#connectingSinceMs > LOST_AFTER_MS) this.#lose('');
      this.#tellNow();
      return;
    }
    const silentMs = this.wallMs - (this.#state.heardAtWallMs ?? 0);
    if (silentMs > LOST_AFTER_MS) this.#lose('');
    else if (silentMs > ASK_AFTER_MS || this.#state.wantsSnapshot) this.#ask();
  }

  #apply(event: PageEvent): void {
    this.#state = reduce(this.#state, event);
  }

  #tellNow(): void {
    this.#nextFrame?.();
    this.#nextFrame = null;
    this.#onChange();
  }

  #tellOnceAFrame(): void {
    if (this.#nextFrame) return;
    const tell = (): void => this.#tellNow();
    const calls = [this.#environment.beforeFrame(tell), this.#later(HIDDEN_MS, tell)];
    this.#nextFrame = () => calls.forEach((callOff) => callOff());
  }

  #later(ms: number, run: () => void): () => void {
    const callOff = this.#environment.after(ms, () => {
      this.#timers.delete(callOff);
      run();
    });
    this.#timers.add(callOff);
    return callOff;
  }
}

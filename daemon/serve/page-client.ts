import type { Changes, PageReading } from './changes.js';
import { MOST_MARKS } from './marks.js';
import type { PointStanding, SnapshotMessage } from './messages.js';
import type { Wall } from '../time/wall.js';

/** One page's connection, as the hub sees it. */
export interface PageSocket {
  /** Bytes that were sent and haven't left yet. */
  readonly bufferedAmount: number;
  send(text: string): void;
  /** Ends it with a status code of RFC 6455, section 7.4. */
  close(code: number, reason: string): void;
  /** Cuts it at once. */
  terminate(): void;
}

/** Where a page's messages come from that aren't the same for all. */
export interface PageSource {
  snapshot(): Omit<SnapshotMessage, 'kind' | 'seq'>;
  /** How a test point stands now. */
  standing(point: string): PointStanding | undefined;
}

/** More than this waiting: the page is slow, and readings are held back for it. */
export const SLOW_BYTES = 256 * 1024;
/** More than this waiting, or nothing taken for so long: the page is dead. Several snapshots fit. */
export const DEAD_BYTES = 16 * 1024 * 1024;
export const DEAD_MS = 20_000;

/** What a slow page gets later. Of test points only which: their standing then is the one to tell. */
interface Held {
  readonly readings: Map<string, PageReading>;
  readonly points: Set<string>;
  leftOut: number;
  others: Partial<Changes>;
}

/** Sends one page its messages, numbered without gaps, and bounds what waits for it. */
export class PageClient {
  readonly #socket: PageSocket;
  readonly #source: PageSource;
  readonly #wall: Wall;
  #seq = 0;
  #held: Held | null = null;
  #owedSnapshot = false;
  #waitingBytes = 0;
  #takenAtMs: number;

  constructor(socket: PageSocket, source: PageSource, wall: Wall) {
    this.#socket = socket;
    this.#source = source;
    this.#wall = wall;
    this.#takenAtMs = wall.nowMs();
  }

  /** Sends the whole state; to a slow page, as soon as it has taken what waits for it. */
  snapshot(): void {
    this.#owedSnapshot = this.#isSlow();
    if (this.#owedSnapshot) return;
    this.#held = null;
    this.#send('snapshot', bodyOf(this.#source.snapshot()));
  }

  refuse(why: string): void {
    this.#send('refused', bodyOf({ why }));
  }

  close(code: number, reason: string): void {
    this.#socket.close(code, reason);
  }

  cut(): void {
    this.#socket.terminate();
  }

  /**
   * Sends what changed, or holds it back while the page is slow: alarms and cut-offs are always sent, of readings the newest of
   * each point is kept and the others are counted.
   * @param body the changes as JSON, made once for all pages.
   * @returns false when the page was found dead and cut off.
   */
  changes(changes: Changes, body: string): boolean {
    if (this.#isDead()) {
      this.#socket.terminate();
      return false;
    }
    if (this.#isSlow()) this.#holdBack(changes);
    else if (this.#owedSnapshot) this.snapshot();
    else if (this.#held === null) this.#send('changes', body);
    else this.#catchUp(this.#held, changes);
    return true;
  }

  #holdBack({ nowMs, readings, points, alarms, cutOffs, ...others }: Changes): void {
    this.#held ??= { readings: new Map(), points: new Set(), leftOut: 0, others: {} };
    for (const reading of readings) {
      if (this.#held.readings.delete(reading[0])) this.#held.leftOut += 1;
      this.#held.readings.set(reading[0], reading);
    }
    for (const { id } of points ?? []) this.#held.points.add(id);
    this.#held.others = merged(this.#held.others, others);
    if (alarms !== undefined || cutOffs !== undefined) {
      this.#send('changes', bodyOf({ nowMs, readings: [], leftOut: 0, alarms, cutOffs }));
    }
  }

  #catchUp(held: Held, changes: Changes): void {
    this.#held = null;
    const readings = [...held.readings.values(), ...changes.readings];
    const ids = new Set([
      ...held.points,
      ...held.readings.keys(),
      ...(changes.points ?? []).map(({ id }) => id),
    ]);
    const points = [...ids].map((id) => this.#source.standing(id)).filter((point) => point !== undefined);
    const others = merged(held.others, changes);
    this.#send('changes', bodyOf({ ...others, readings, leftOut: held.leftOut, points }));
  }

  #send(kind: string, body: string): void {
    this.#seq += 1;
    this.#socket.send(`{"kind":"${kind}","seq":${this.#seq},${body}`);
  }

  #isSlow(): boolean {
    return this.#socket.bufferedAmount > SLOW_BYTES;
  }

  #isDead(): boolean {
    const waitingBytes = this.#socket.bufferedAmount;
    if (waitingBytes < this.#waitingBytes || waitingBytes <= SLOW_BYTES) this.#takenAtMs = this.#wall.nowMs();
    this.#waitingBytes = waitingBytes;
    return waitingBytes > DEAD_BYTES || this.#wall.nowMs() - this.#takenAtMs > DEAD_MS;
  }
}

/** JSON of an object without its first brace: the message's kind and number go before it. */
export function bodyOf(data: object): string {
  return JSON.stringify(data).slice(1);
}

/** The newest view of everything that changed in either; marks one after the other. */
function merged<T extends Partial<Changes>>(before: Partial<Changes>, now: T): T {
  const instruments = newestOf(before.instruments, now.instruments, ({ name }) => name);
  const captures = newestOf(before.captures, now.captures, ({ point }) => point);
  const settled = newestOf(before.settled, now.settled, ({ point }) => point);
  const marks = [...(before.marks ?? []), ...(now.marks ?? [])].slice(-MOST_MARKS);
  return {
    ...before,
    ...now,
    ...(instruments.length > 0 && { instruments }),
    ...(captures.length > 0 && { captures }),
    ...(settled.length > 0 && { settled }),
    ...(marks.length > 0 && { marks }),
  };
}

function newestOf<T>(
  before: readonly T[] | undefined,
  now: readonly T[] | undefined,
  key: (view: T) => string,
): T[] {
  return [...new Map([...(before ?? []), ...(now ?? [])].map((view) => [key(view), view])).values()];
}

import type { Server } from 'node:net';
import type { Wall } from '../time/wall.js';

/** Of all together. */
export const MOST_CONNECTIONS = 256;
/** Of one address: a page takes seven at most (six and its live one). Programs on this machine have no such bound. */
export const MOST_OF_ONE_ADDRESS = 48;
/** Loading the page takes about forty. */
export const MOST_REQUESTS_A_SECOND = 300;
const LOOPBACK = /^(?:::ffff:)?127\.|^::1$/;

/** Bounds the connections of a server, so that one machine on the network can't keep all others out. */
export function boundConnections(server: Server): void {
  server.maxConnections = MOST_CONNECTIONS;
  const open = new Map<string, number>();
  server.on('connection', (socket) => {
    const from = socket.remoteAddress ?? '';
    if (LOOPBACK.test(from)) return;
    const count = (open.get(from) ?? 0) + 1;
    open.set(from, count);
    socket.once('close', () => {
      const left = (open.get(from) ?? 1) - 1;
      if (left > 0) open.set(from, left);
      else open.delete(from);
    });
    if (count > MOST_OF_ONE_ADDRESS) socket.destroy();
  });
}

/** Counts the requests of each address in the running second. */
export class RequestRate {
  readonly #wall: Wall;
  #secondMs = -Infinity;
  #counts = new Map<string, number>();

  constructor(wall: Wall) {
    this.#wall = wall;
  }

  /** Whether one more from this address is within bounds; counts it. */
  take(from: string): boolean {
    const nowMs = this.#wall.nowMs();
    if (nowMs - this.#secondMs >= 1000) {
      this.#secondMs = nowMs;
      this.#counts = new Map();
    }
    const count = (this.#counts.get(from) ?? 0) + 1;
    this.#counts.set(from, count);
    return count <= MOST_REQUESTS_A_SECOND;
  }
}

import { STATUS_CODES, type IncomingMessage, type Server } from 'node:http';
import type { Duplex } from 'node:stream';
import { WebSocketServer, type RawData, type WebSocket } from 'ws';
import { foreignHost, foreignOrigin, LOOPBACK_DOOR, type Door } from './access.js';
import { admitted, NO_KEY } from './enter.js';
import type { Hub, PageConnection } from './hub.js';
import { backgroundWall, type Wall } from '../time/wall.js';

/** A note with a photo of 2 MB in base64; a longer message closes its connection. */
export const LONGEST_MESSAGE_BYTES = 3 * 1024 * 1024;
export const MOST_PAGES = 32;
const LIVE_PATH = '/live';
const HEARTBEAT_MS = 15_000;
const UNSUPPORTED_DATA = 1003;

/** Joins the pages that connect to `/live` with the hub. The function returned cuts all of them off. */
export function serveLive(
  server: Server,
  hub: Hub,
  { wall = backgroundWall, door = LOOPBACK_DOOR }: { readonly wall?: Wall; readonly door?: Door } = {},
): () => void {
  const sockets = new WebSocketServer({
    noServer: true,
    maxPayload: LONGEST_MESSAGE_BYTES,
    perMessageDeflate: false,
  });
  server.on('upgrade', (request, socket: Duplex, head: Buffer) => {
    const refusal = whyRefused(request, door, sockets.clients.size);
    if (refusal !== null) return refuse(socket, refusal);
    const mayAct = admitted(request, door) === 'act';
    sockets.handleUpgrade(request, socket, head, (page) => join(hub.connect(page, mayAct), page));
  });
  const stopHeartbeat = keepHeartbeat(sockets, wall);
  return () => {
    stopHeartbeat();
    for (const page of sockets.clients) page.terminate();
    sockets.close();
  };
}

interface Refusal {
  readonly status: number;
  readonly why: string;
}

function whyRefused(request: IncomingMessage, door: Door, pages: number): Refusal | null {
  const host = foreignHost(request, door);
  if (host !== null) return { status: 403, why: host };
  const origin = foreignOrigin(request.headers, door);
  if (origin !== null) return { status: 403, why: origin };
  if (request.url?.split('?', 1)[0] !== LIVE_PATH)
    return { status: 404, why: `Live data is at ${LIVE_PATH}.` };
  if (admitted(request, door) === null) return { status: 401, why: NO_KEY };
  if (pages < MOST_PAGES) return null;
  return { status: 503, why: `${MOST_PAGES} pages are open already; close one of them.` };
}

function refuse(socket: Duplex, { status, why }: Refusal): void {
  socket.on('error', () => socket.destroy());
  // One that keeps its own half open would hold its place, and the server's end, for good.
  socket.once('finish', () => socket.destroy());
  socket.end(
    `HTTP/1.1 ${status} ${STATUS_CODES[status]}\r\nConnection: close\r\nContent-Type: text/plain; charset=utf-8\r\n` +
      `Content-Length: ${Buffer.byteLength(why)}\r\n\r\n${why}`,
  );
}

function join(connection: PageConnection, page: WebSocket): void {
  page.on('message', (data: RawData, isBinary) => {
    if (isBinary) page.close(UNSUPPORTED_DATA, 'text only');
    else connection.receive(textOf(data));
  });
  page.on('close', () => connection.gone());
  // A broken frame or a reset: `close` always follows, and there is nothing else to do.
  page.on('error', () => undefined);
}

function textOf(data: RawData): string {
  return Buffer.isBuffer(data)
    ? data.toString('utf8')
    : Buffer.concat(Array.isArray(data) ? data : [new Uint8Array(data)]).toString('utf8');
}

/** Cuts off pages that don't answer a ping until the next one. */
function keepHeartbeat(sockets: WebSocketServer, wall: Wall): () => void {
  const asked = new WeakSet<WebSocket>();
  let stop: () => void = () => undefined;
  const beat = (): void => {
    for (const page of sockets.clients) {
      if (asked.has(page)) {
        page.terminate();
        continue;
      }
      asked.add(page);
      page.once('pong', () => asked.delete(page));
      page.ping();
    }
    stop = wall.after(HEARTBEAT_MS, beat);
  };
  stop = wall.after(HEARTBEAT_MS, beat);
  return () => stop();
}

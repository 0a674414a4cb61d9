import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { createServer as createTlsServer } from 'node:https';
import { backgroundWall, type Wall } from '../time/wall.js';
import { foreignHost, LOOPBACK_DOOR, type Door } from './access.js';
import { boundConnections, RequestRate } from './crowd.js';
import { admitted, enter, ENTER_PATH, sendNoKey } from './enter.js';
import { HOLDER_PATH, type Holder } from './holder.js';
import type { Role } from './keys.js';
import { HEADERS, sendText } from './headers.js';
import { JOB_PATH, type JobSource } from './job-ask.js';
import { JobAnswers } from './job-http.js';
import type { DesignDesk } from './design-messages.js';
import { answerDesign, isDesignPath } from './design-requests.js';
import type { InstrumentDesk } from './instrument-messages.js';
import { answerInstruments, isInstrumentPath } from './instrument-requests.js';
import type { JsonAnswer } from './json-requests.js';
import type { PageFiles } from './page-files.js';

/** A request, an upgrade or a TLS handshake that takes longer is cut off, as is a connection that asks nothing. */
const SLOW_REQUEST_MS = 10_000;
const SLOW_HEADERS_MS = 5_000;
const LOOK_FOR_SLOW_MS = 1_000;
const LIMITS = {
  requestTimeout: SLOW_REQUEST_MS,
  headersTimeout: SLOW_HEADERS_MS,
  connectionsCheckingInterval: LOOK_FOR_SLOW_MS,
} as const;

/** A certificate and its key, in PEM (RFC 7468). */
export interface Certificate {
  readonly cert: Buffer;
  readonly key: Buffer;
}

/** What stands behind the page beside its files; what is left out can't be asked for. */
export interface PageSources {
  /** Answers about recordings. */
  readonly job?: JobSource | undefined;
  /** Answers about designs. */
  readonly desk?: DesignDesk | undefined;
  /** Answers about ports and the bench file. */
  readonly instruments?: InstrumentDesk | undefined;
}

export interface PageServerOptions extends PageSources {
  readonly door?: Door;
  /** Given: the page is served over TLS. */
  readonly certificate?: Certificate | undefined;
  /** Told to whoever on this machine wants the same port. */
  readonly holder?: Holder | undefined;
  readonly wall?: Wall;
}

/** Serves the files given, to browsers that call us by our own name and, on a network, have a key. */
export function createPageServer(files: PageFiles, options: PageServerOptions = {}): Server {
  const {
    job,
    desk,
    instruments,
    certificate,
    door = LOOPBACK_DOOR,
    holder = null,
    wall = backgroundWall,
  } = options;
  const jobAnswers = job === undefined ? null : new JobAnswers(job);
  const site: Site = { files, jobAnswers, desk, instruments, door, holder, rate: new RequestRate(wall) };
  const listener = (request: IncomingMessage, response: ServerResponse): void =>
    answer(site, request, response);
  const server =
    certificate === undefined
      ? createServer(LIMITS, listener)
      : createTlsServer({ ...LIMITS, ...certificate, handshakeTimeout: SLOW_HEADERS_MS }, listener);
  boundConnections(server);
  return server;
}

interface Site {
  readonly files: PageFiles;
  readonly jobAnswers: JobAnswers | null;
  readonly desk: DesignDesk | undefined;
  readonly instruments: InstrumentDesk | undefined;
  readonly door: Door;
  readonly holder: Holder | null;
  readonly rate: RequestRate;
}

function answer(site: Site, request: IncomingMessage, response: ServerResponse): void {
  const { door, holder, rate } = site;
  if (!rate.take(request.socket.remoteAddress ?? '')) {
    response.setHeader('Retry-After', '1');
    return sendText(response, 429, 'Too many requests at once; try again in a moment.');
  }
  const refusal = foreignHost(request, door);
  if (refusal !== null) return sendText(response, 403, refusal);
  const path = request.url?.split('?', 1)[0] ?? '';
  if (holder !== null && path === HOLDER_PATH && isFromHere(request)) return sendJson(response, holder);
  const { keys, scheme } = door;
  if (keys !== null && request.method === 'GET' && path.startsWith(ENTER_PATH)) {
    return enter(request, response, { scheme, keys });
  }
  const role = admitted(request, door);
  if (role === null) return sendNoKey(response);
  answerAdmitted(site, { path, role }, request, response);
}

function answerAdmitted(
  { files, jobAnswers, desk, instruments, door }: Site,
  { path, role }: { readonly path: string; readonly role: Role },
  request: IncomingMessage,
  response: ServerResponse,
): void {
  const ask = { path, role, door };
  if (desk !== undefined && isDesignPath(path)) {
    return void sendAnswer(answerDesign(desk, ask, request), request, response);
  }
  if (instruments !== undefined && isInstrumentPath(path)) {
    return void sendAnswer(answerInstruments(instruments, ask, request), request, response);
  }
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    response.setHeader('Allow', 'GET, HEAD');
    return sendText(response, 405, 'Only GET and HEAD are answered here.');
  }
  if (jobAnswers !== null && path.startsWith(JOB_PATH)) return void jobAnswers.answer(request, response);
  const file = files.get(path);
  if (file === undefined) return sendText(response, 404, 'There is no such page; go to /');
  response.writeHead(200, { ...HEADERS, 'Content-Type': file.type, 'Content-Length': file.body.length });
  response.end(request.method === 'HEAD' ? undefined : file.body);
}

/** A program on this machine reaches us from the address that it calls. */
function isFromHere({ socket: { remoteAddress, localAddress } }: IncomingMessage): boolean {
  return remoteAddress !== undefined && remoteAddress === localAddress;
}

async function sendAnswer(
  answering: Promise<JsonAnswer>,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  const answer = await answering;
  // What wasn't read of a refused request would be taken for the next one.
  if (!request.complete) response.setHeader('Connection', 'close');
  if (answer.status !== 200) return sendText(response, answer.status, answer.why);
  sendJson(response, answer.body);
}

function sendJson(response: ServerResponse, body: object): void {
  response.writeHead(200, { ...HEADERS, 'Content-Type': 'application/json; charset=utf-8' });
  response.end(JSON.stringify(body));
}

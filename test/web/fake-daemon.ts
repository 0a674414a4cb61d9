import { readFile } from 'node:fs/promises';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize } from 'node:path';
import { WebSocketServer, type WebSocket } from 'ws';
import { LOOPBACK_DOOR } from '../../daemon/serve/access.js';
import type { DesignDesk } from '../../daemon/serve/design-messages.js';
import { answerDesign, isDesignPath } from '../../daemon/serve/design-requests.js';
import type { InstrumentDesk } from '../../daemon/serve/instrument-messages.js';
import { answerInstruments, isInstrumentPath } from '../../daemon/serve/instrument-requests.js';
import { JOB_PATH } from '../../daemon/serve/job-ask.js';
import type { JobAnswers } from '../../daemon/serve/job-http.js';
import type { JsonAnswer } from '../../daemon/serve/json-requests.js';
import type { ChangesMessage, PageMessage, SnapshotMessage } from '../../daemon/serve/messages.js';

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
};

/** The content security policy under which the page must work. */
const POLICY =
  "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; " +
  "base-uri 'none'; frame-ancestors 'none'; form-action 'none'";

type Changes = Partial<Omit<ChangesMessage, 'kind' | 'seq'>>;

/** Serves the built page and plays a daemon whose every word the test decides. */
export class FakeDaemon {
  /** What pages asked for, oldest first. */
  readonly received: PageMessage[] = [];
  /** What a page gets when it connects or asks; its `seq` is set when it's sent. */
  snapshot: SnapshotMessage;
  /** Answers a page's command; the default gives a snapshot when one is asked for. */
  onMessage: (message: PageMessage) => void = () => undefined;
  /** Answers about recordings; without it there are none to ask about. */
  job: JobAnswers | null = null;
  /** Answers about designs. */
  design: DesignDesk | null = null;
  /** Answers about the bench file and ports. */
  instruments: InstrumentDesk | null = null;
  address = '';
  /** Puts away what stands behind it. */
  onStop: () => Promise<void> = () => Promise.resolve();
  #server = createServer((request, response) => void this.#serve(request, response));
  #sockets = new WebSocketServer({ noServer: true });
  #seq = 0;
  #open = true;
  #root: string;

  constructor(root: string, snapshot: SnapshotMessage) {
    this.#root = root;
    this.snapshot = snapshot;
    this.#server.on('upgrade', (request, socket, head) => {
      if (!this.#open || request.url !== '/live') return void socket.destroy();
      this.#sockets.handleUpgrade(request, socket, head, (page) => this.#join(page));
    });
  }

  /** Listens on a free port of the loopback address, or on `port`; gives the page's address. */
  async start(port = 0): Promise<string> {
    await new Promise<void>((resolve) => this.#server.listen(port, '127.0.0.1', resolve));
    this.address = `http://127.0.0.1:${(this.#server.address() as AddressInfo).port}/`;
    return this.address;
  }

  async stop(): Promise<void> {
    for (const page of this.#sockets.clients) page.terminate();
    this.#server.closeAllConnections();
    await new Promise((resolve) => this.#server.close(resolve));
    await this.onStop();
  }

  /** Cuts every page off and lets none in until `comeBack`. */
  goAway(): void {
    this.#open = false;
    for (const page of this.#sockets.clients) page.terminate();
  }

  comeBack(): void {
    this.#open = true;
  }

  sendChanges(changes: Changes): void {
    const nowMs = changes.nowMs ?? this.snapshot.session.nowMs;
    this.#send({ kind: 'changes', readings: [], leftOut: 0, ...changes, nowMs });
  }

  refuse(why: string): void {
    this.#send({ kind: 'refused', why });
  }

  /** Leaves out a number of the sequence, as if a message had been lost. */
  skip(): void {
    this.#seq += 1;
  }

  /** What pages asked for but the whole state, which a page asks for by itself when it hears nothing for a while. */
  get commands(): readonly PageMessage[] {
    return this.received.filter(({ kind }) => kind !== 'snapshot');
  }

  /** The commands of one kind that came in. */
  receivedOf(kind: PageMessage['kind']): readonly PageMessage[] {
    return this.received.filter((message) => message.kind === kind);
  }

  #join(page: WebSocket): void {
    page.on('message', (data: Buffer) => {
      const message = JSON.parse(data.toString()) as PageMessage;
      this.received.push(message);
      if (message.kind === 'snapshot') this.#send({ ...this.snapshot });
      this.onMessage(message);
    });
    this.#send({ ...this.snapshot });
  }

  #send(message: object): void {
    this.#seq += 1;
    const text = JSON.stringify({ ...message, seq: this.#seq });
    for (const page of this.#sockets.clients) page.send(text);
  }

  /** Null when the path is of no desk that is there. */
  async #ofDesk(path: string, request: IncomingMessage): Promise<JsonAnswer | null> {
    const role = this.snapshot.session.mayAct ? 'act' : 'look';
    const ask = { path, role, door: LOOPBACK_DOOR } as const;
    const { design, instruments } = this;
    if (design !== null && isDesignPath(path)) return answerDesign(design, ask, request);
    if (instruments !== null && isInstrumentPath(path)) return answerInstruments(instruments, ask, request);
    return null;
  }

  async #serve(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const path = new URL(request.url ?? '/', 'http://page').pathname;
    if (this.job !== null && path.startsWith(JOB_PATH)) return this.job.answer(request, response);
    const answer = await this.#ofDesk(path, request);
    if (answer !== null) {
      const isDone = answer.status === 200;
      response.writeHead(answer.status, { 'content-type': isDone ? 'application/json' : 'text/plain' });
      return void response.end(isDone ? JSON.stringify(answer.body) : answer.why);
    }
    const file = join(this.#root, normalize(path === '/' ? '/index.html' : path));
    try {
      const body = await readFile(file);
      response.writeHead(200, {
        'content-type': TYPES[extname(file)] ?? 'application/octet-stream',
        'content-security-policy': POLICY,
      });
      response.end(body);
    } catch {
      response.writeHead(404).end();
    }
  }
}

/** A daemon that only has what the test gives it. */
export async function startFakeDaemon(page: string, snapshot: SnapshotMessage): Promise<FakeDaemon> {
  const daemon = new FakeDaemon(page, snapshot);
  await daemon.start();
  return daemon;
}

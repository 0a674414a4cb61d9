import { createServer, connect, type Server, type Socket } from 'node:net';
import { once } from 'node:events';
import { WebSocket } from 'ws';
import type { Hub, PageConnection } from '../../daemon/serve/hub.js';
import type { AlarmView, DaemonMessage } from '../../daemon/serve/messages.js';
import { LOOPBACK } from '../../daemon/serve/port.js';

/** What pages have been told, over all their connections. */
export interface PageTally {
  messages: number;
  /** Readings that a slow page wasn't told one by one. */
  leftOut: number;
  /** Messages whose number wasn't one more than that of the one before. */
  gaps: number;
  snapshots: number;
}

/** A page in a browser, as far as the daemon can tell: a WebSocket on the loopback address. */
export class SoakPage {
  readonly #port: number;
  readonly #hostPort: number;
  readonly #tally: PageTally;
  readonly #onAlarms: (alarms: readonly AlarmView[]) => void;
  #socket: WebSocket | null = null;
  #seq = 0;

  /** @param hostPort what the address bar shows; another than `port` behind a proxy */
  constructor(
    { port, hostPort = port }: { readonly port: number; readonly hostPort?: number },
    tally: PageTally,
    onAlarms: (alarms: readonly AlarmView[]) => void = () => undefined,
  ) {
    this.#port = port;
    this.#hostPort = hostPort;
    this.#tally = tally;
    this.#onAlarms = onAlarms;
  }

  /** Whether it is joined and has its snapshot. */
  get isOpen(): boolean {
    return this.#socket?.readyState === WebSocket.OPEN && this.#seq > 0;
  }

  open(): void {
    const host = `${LOOPBACK}:${this.#hostPort}`;
    const socket = new WebSocket(`ws://${LOOPBACK}:${this.#port}/live`, {
      origin: `http://${host}`,
      headers: { host },
    });
    this.#seq = 0;
    this.#socket = socket;
    socket.on('error', () => undefined);
    socket.on('message', (data: Buffer) => this.#take(data.toString('utf8')));
  }

  send(message: object): void {
    this.#socket?.send(JSON.stringify(message));
  }

  close(): void {
    this.#socket?.close();
    this.#socket = null;
  }

  /** Lets go of it without a word. */
  drop(): void {
    this.#socket?.terminate();
    this.#socket = null;
  }

  #take(text: string): void {
    const seq = Number(/"seq":(\d+)/.exec(text)?.[1]);
    this.#tally.messages += 1;
    if (seq !== this.#seq + 1) this.#tally.gaps += 1;
    this.#seq = seq;
    const isSnapshot = text.startsWith('{"kind":"snapshot"');
    if (isSnapshot) this.#tally.snapshots += 1;
    if (!isSnapshot && !text.includes('"alarms":') && text.includes('"leftOut":0')) return;
    const message = JSON.parse(text) as DaemonMessage;
    if (message.kind === 'refused') return;
    if (message.kind === 'changes') this.#tally.leftOut += message.leftOut;
    if (message.alarms !== undefined) this.#onAlarms(message.alarms);
  }
}

/** A hub that counts the pages which the daemon holds for open. */
export class CountedHub implements Hub {
  readonly #hub: Hub;
  open = 0;

  constructor(hub: Hub) {
    this.#hub = hub;
  }

  connect(...args: Parameters<Hub['connect']>): PageConnection {
    const connection = this.#hub.connect(...args);
    this.open += 1;
    let isGone = false;
    return {
      receive: (text) => connection.receive(text),
      gone: () => {
        if (!isGone) this.open -= 1;
        isGone = true;
        connection.gone();
      },
    };
  }

  publish(...args: Parameters<Hub['publish']>): void {
    this.#hub.publish(...args);
  }

  close(): void {
    this.#hub.close();
  }
}

/** The wireless network between a phone and the daemon: when it is cut, nobody is told. */
export class Network {
  readonly #server: Server;
  readonly #pairs = new Set<readonly [Socket, Socket]>();
  #isCut = false;

  private constructor(server: Server) {
    this.#server = server;
  }

  static async to(port: number): Promise<Network> {
    const server = createServer();
    const network = new Network(server);
    server.on('connection', (near) => network.#join(near, connect({ host: LOOPBACK, port })));
    server.listen(0, LOOPBACK);
    await once(server, 'listening');
    return network;
  }

  get port(): number {
    const address = this.#server.address();
    return typeof address === 'object' && address !== null ? address.port : 0;
  }

  /** Nothing passes any more, and what was sent waits where it was sent. */
  cut(): void {
    this.#isCut = true;
    for (const pair of this.#pairs) for (const socket of pair) socket.unpipe().pause();
  }

  mend(): void {
    this.#isCut = false;
    for (const pair of this.#pairs) for (const socket of pair) socket.destroy();
  }

  async close(): Promise<void> {
    for (const pair of this.#pairs) for (const socket of pair) socket.destroy();
    await new Promise((resolve) => this.#server.close(resolve));
  }

  #join(near: Socket, far: Socket): void {
    if (this.#isCut) return void [near, far].forEach((socket) => socket.destroy());
    const pair = [near, far] as const;
    this.#pairs.add(pair);
    near.pipe(far);
    far.pipe(near);
    const end = (): void => {
      this.#pairs.delete(pair);
      near.destroy();
      far.destroy();
    };
    for (const socket of pair) {
      socket.on('error', () => undefined);
      socket.on('close', end);
    }
  }
}

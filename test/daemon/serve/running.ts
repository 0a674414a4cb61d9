import { once } from 'node:events';
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { request, type IncomingMessage, type IncomingHttpHeaders, type RequestOptions } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { WebSocket } from 'ws';
import type { DaemonMessage } from '../../../daemon/serve/messages.js';
import { startServer, type RunningServer, type ServerOptions } from '../../../daemon/serve/server.js';
import { cabin, type Cabin } from './cabin.js';

/** A page of three files and, beside its folder, a file that nobody may read. */
export async function pageFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-page-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  const page = join(folder, 'web');
  await mkdir(join(page, 'assets'), { recursive: true });
  await writeFile(join(page, 'index.html'), '<!doctype html><title>cabin</title>');
  await writeFile(join(page, 'assets', 'main.js'), 'export {};');
  await writeFile(join(page, 'notes.private'), 'of no known type');
  await writeFile(join(folder, 'secret.txt'), 'secret');
  return page;
}

export interface Running {
  readonly server: RunningServer;
  readonly session: Cabin;
}

/** A real server on a free port, with a session whose clock the test moves. */
export async function running(
  session: Cabin = cabin(),
  options: Partial<ServerOptions> = {},
): Promise<Running> {
  const server = await startServer({
    port: 0,
    pageFolder: await pageFolder(),
    hub: session.hub,
    wall: session.clock,
    ...options,
  });
  onTestFinished(() => server.close());
  return { server, session };
}

export interface Answer {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
}

/** One request with exactly this path and these headers: nothing is tidied up on the way. */
export async function ask(
  server: RunningServer,
  path: string,
  options: RequestOptions = {},
): Promise<Answer> {
  const asked = request({ host: '127.0.0.1', port: server.port, path, agent: false, ...options }).end();
  const [response] = (await once(asked, 'response')) as [IncomingMessage];
  let body = '';
  for await (const chunk of response) body += String(chunk);
  return { status: response.statusCode ?? 0, headers: response.headers, body };
}

export interface Page {
  readonly socket: WebSocket;
  readonly received: DaemonMessage[];
  /** Resolves with the close code. */
  readonly closed: Promise<number>;
}

/** A page that has joined and has its snapshot. */
export async function page(server: RunningServer, headers: Record<string, string> = {}): Promise<Page> {
  const origin = `http://127.0.0.1:${server.port}`;
  const socket = new WebSocket(`ws://127.0.0.1:${server.port}/live`, { origin, headers });
  const received: DaemonMessage[] = [];
  socket.on('message', (data: Buffer) => received.push(JSON.parse(data.toString()) as DaemonMessage));
  const closed = new Promise<number>((resolve) => socket.on('close', resolve));
  socket.on('error', () => undefined);
  await once(socket, 'message');
  return { socket, received, closed };
}

/** The status with which a handshake with these headers is answered; 101 when it joins. */
export async function handshake(
  server: RunningServer,
  headers: Record<string, string>,
  path = '/live',
): Promise<number> {
  const socket = new WebSocket(`ws://127.0.0.1:${server.port}${path}`, { headers });
  socket.on('error', () => undefined);
  return new Promise((resolve) => {
    socket.on('unexpected-response', (_, response) => {
      resolve(response.statusCode ?? 0);
      socket.terminate();
    });
    socket.on('open', () => {
      resolve(101);
      socket.terminate();
    });
  });
}

import { once } from 'node:events';
import { request, type IncomingMessage } from 'node:http';
import { describe, expect, it, onTestFinished } from 'vitest';
import { startServer, type RunningServer } from '../../../daemon/serve/server.js';
import { CABIN_BENCH } from '../desk/cabin-text.js';
import { OWN_BENCH, testInstrumentDesk } from '../desk/instrument-bench.js';
import { cabin } from './cabin.js';
import { ask, pageFolder } from './running.js';

/** A server whose ports may not be opened: what reaches the desk is told. */
async function serving(): Promise<{ readonly server: RunningServer; readonly opened: string[] }> {
  const opened: string[] = [];
  const { desk: instruments } = await testInstrumentDesk({
    listenAt: (place) => {
      opened.push(...Object.values(place));
      return Promise.reject(new Error('not there'));
    },
  });
  const { hub, clock } = cabin();
  const server = await startServer({
    port: 0,
    pageFolder: await pageFolder(),
    hub,
    wall: clock,
    instruments,
  });
  onTestFinished(() => server.close());
  return { server, opened };
}

async function post(
  server: RunningServer,
  path: string,
  body: object | string,
  headers: Record<string, string> = {},
): Promise<{ readonly status: number; readonly body: string }> {
  const asked = request({
    host: '127.0.0.1',
    port: server.port,
    path: `/instruments/${path}`,
    method: 'POST',
    agent: false,
    headers: { 'content-type': 'application/json', origin: server.address.slice(0, -1), ...headers },
  });
  asked.on('error', () => undefined);
  asked.end(typeof body === 'string' ? body : JSON.stringify(body));
  const [response] = (await once(asked, 'response')) as [IncomingMessage];
  let text = '';
  for await (const chunk of response) text += String(chunk);
  return { status: response.statusCode ?? 0, body: text };
}

const LISTEN = { port: '/dev/ttyUSB0', seconds: 3 };

describe('requests about instruments', () => {
  it('open, preview, ports and save, for our own page', async () => {
    const { server } = await serving();
    const { status, body } = await ask(server, '/instruments/open');
    expect(status).toBe(200);
    const { version, byHand } = JSON.parse(body) as { version: string; byHand: object };
    const edits = [{ kind: 'add', instrument: byHand }];
    const preview = await post(server, 'preview', { text: CABIN_BENCH, edits });
    expect(JSON.parse(preview.body)).toMatchObject({ problems: [], refused: null });
    const saved = await post(server, 'save', { text: CABIN_BENCH, file: OWN_BENCH, version });
    expect(JSON.parse(saved.body)).toMatchObject({ file: OWN_BENCH, why: null });
    expect(JSON.parse((await post(server, 'ports', {})).body)).toEqual({ ports: [], why: null });
  });

  it.each([
    ['a page of somebody else', { origin: 'https://evil.example' }, 403],
    ["somebody else's name that points here", { host: 'evil.example' }, 403],
    ['a form of another page', { 'content-type': 'text/plain' }, 415],
  ] as const)('%s opens no port', async (_, headers, status) => {
    const { server, opened } = await serving();
    expect((await post(server, 'listen', LISTEN, { ...headers })).status).toBe(status);
    expect(opened).toEqual([]);
  });

  it('a port is opened by a POST alone', async () => {
    const { server, opened } = await serving();
    expect((await ask(server, '/instruments/listen')).status).toBe(405);
    expect(opened).toEqual([]);
    expect((await post(server, 'listen', LISTEN)).status).toBe(200);
    expect(opened).toEqual(['/dev/ttyUSB0']);
    expect(JSON.parse((await post(server, 'listening', {})).body)).toMatchObject({ why: 'not there' });
  });

  it.each([
    { port: '../etc/passwd', seconds: 3 },
    { port: '/dev/../etc/passwd', seconds: 3 },
    { port: '', seconds: 3 },
    { port: '/dev/ttyUSB0', seconds: 1e9 },
    { port: '/dev/ttyUSB0', seconds: 3, baud: 1 },
  ])('%j is no request of the page', async (body) => {
    const { server, opened } = await serving();
    expect((await post(server, 'listen', body)).status).toBe(400);
    expect(opened).toEqual([]);
  });

  it('what is too large is refused, and so is what is no JSON', async () => {
    const { server } = await serving();
    expect((await post(server, 'preview', 'x'.repeat(3 * 1024 * 1024))).status).toBe(413);
    expect((await post(server, 'preview', '{')).status).toBe(400);
    const lines = Array.from({ length: 51 }, () => 'x');
    expect((await post(server, 'try', { pattern: '{a V}', lines })).status).toBe(400);
  });
});

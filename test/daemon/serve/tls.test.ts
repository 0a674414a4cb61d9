import { readFile } from 'node:fs/promises';
import { request as askTls } from 'node:https';
import { once } from 'node:events';
import { connect } from 'node:net';
import type { IncomingMessage } from 'node:http';
import { describe, expect, it } from 'vitest';
import { WebSocket } from 'ws';
import { cabin } from './cabin.js';
import { ACT, bearer, DOOR, openToNetwork } from './network.js';

/** Made for these tests alone, of a machine called signalbox. */
async function certificate() {
  const [cert, key] = await Promise.all(
    ['cert', 'key'].map((part) => readFile(new URL(`signalbox.${part}.pem`, import.meta.url))),
  );
  return { cert: cert ?? Buffer.of(), key: key ?? Buffer.of() };
}

async function overTls() {
  const pem = await certificate();
  const { server } = await openToNetwork(cabin(), {
    door: { ...DOOR, scheme: 'https' },
    certificate: pem,
  });
  async function ask(path: string, headers: Record<string, string> = {}) {
    const options = { host: '127.0.0.1', port: server.port, path, headers, ca: pem.cert, agent: false };
    const [response] = (await once(askTls(options).end(), 'response')) as [IncomingMessage];
    response.resume();
    return response;
  }
  return { server, ask, ca: pem.cert };
}

describe('over TLS', () => {
  it('a client that checks the certificate gets the page, and the cookie goes over TLS only', async () => {
    const { server, ask } = await overTls();
    expect((await ask('/')).statusCode).toBe(401);
    expect((await ask('/', bearer(ACT))).statusCode).toBe(200);
    expect((await ask(new URL(server.link('act')).pathname)).headers['set-cookie']).toEqual([
      `__Host-railminder-${server.port}=${ACT}; Path=/; HttpOnly; SameSite=Strict; Secure`,
    ]);
    expect(server.link('act', '127.0.0.1')).toBe(`https://127.0.0.1:${server.port}/enter/${ACT}`);
  });

  it.each([
    ['https', 'open'],
    ['http', 'unexpected-response'],
  ])("a page of the %s site on this port gets '%s'", async (scheme, outcome) => {
    const { server, ca } = await overTls();
    const socket = new WebSocket(`wss://127.0.0.1:${server.port}/live`, {
      ca,
      origin: `${scheme}://127.0.0.1:${server.port}`,
      headers: bearer(ACT),
    });
    socket.on('error', () => undefined);
    await once(socket, outcome);
    socket.terminate();
  });

  it('whoever speaks without TLS gets no page', async () => {
    const { server } = await overTls();
    const raw = connect(server.port, '127.0.0.1');
    let answer = '';
    raw.on('data', (chunk: Buffer) => (answer += chunk.toString('latin1')));
    raw.on('error', () => undefined);
    raw.write(`GET / HTTP/1.1\r\nHost: 127.0.0.1:${server.port}\r\n\r\n`);
    await once(raw, 'close');
    expect(answer).not.toContain('cabin');
  });
});

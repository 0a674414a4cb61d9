import { once } from 'node:events';
import { connect } from 'node:net';
import { describe, expect, it } from 'vitest';
import { LONGEST_MESSAGE_BYTES, MOST_PAGES } from '../../../daemon/serve/live.js';
import { tick, volts } from './cabin.js';
import { handshake, page, running } from './running.js';

describe('joining', () => {
  it('is for our own page and for programs that are no browser', async () => {
    const { server } = await running();
    const { port } = server;
    expect(await handshake(server, { origin: `http://127.0.0.1:${port}` })).toBe(101);
    expect(await handshake(server, { origin: `http://localhost:${port}`, host: `localhost:${port}` })).toBe(
      101,
    );
    expect(await handshake(server, {})).toBe(101);
  });

  it('is refused to the pages of others and under foreign names', async () => {
    const { server } = await running();
    const { port } = server;
    const foreign = [
      'http://evil.example',
      'null',
      `https://127.0.0.1:${port}`,
      `http://127.0.0.1:${port + 1}`,
      'http://127.0.0.1',
      `http://localhost:${port}`,
    ];
    for (const origin of foreign) expect(await handshake(server, { origin })).toBe(403);
    const host = `evil.example:${port}`;
    expect(await handshake(server, { host, origin: `http://${host}` })).toBe(403);
    expect(await handshake(server, {}, '/elsewhere')).toBe(404);
  });

  it(`is for ${MOST_PAGES} pages; one more is told, and may come when another has gone`, async () => {
    const { server } = await running();
    const pages = [];
    for (let i = 0; i < MOST_PAGES; i += 1) pages.push(await page(server));
    expect(await handshake(server, {})).toBe(503);
    pages[0]?.socket.close();
    await pages[0]?.closed;
    await expect.poll(() => handshake(server, {})).toBe(101);
  });
});

describe('a page', () => {
  it('gets the snapshot, then changes; after reconnecting a snapshot again, numbered from one', async () => {
    const { server, session } = await running();
    const first = await page(server);
    session.tell(volts(500, 5));
    await expect.poll(() => first.received.map(({ kind }) => kind)).toEqual(['snapshot', 'changes']);
    first.socket.terminate();
    session.tell(volts(1000, 5.1));
    const again = await page(server);
    expect(again.received[0]).toMatchObject({
      kind: 'snapshot',
      seq: 1,
      history: { 'logic.volts': { atMs: [500, 1000] } },
    });
  });

  it('that sends too long a message is closed alone, with the code for it (RFC 6455, 7.4.1)', async () => {
    const { server, session } = await running();
    const bad = await page(server);
    const good = await page(server);
    bad.socket.send('x'.repeat(LONGEST_MESSAGE_BYTES + 1));
    expect(await bad.closed).toBe(1009);
    session.tell(volts(500, 5));
    await expect.poll(() => good.received.length).toBe(2);
  });

  it.each([
    ['bytes that are no text', Buffer.from([0xff, 0xfe]), 1003],
    ['text that is not UTF-8', null, 1007],
  ])('that sends %s is closed alone', async (_, bytes, code) => {
    const { server } = await running();
    const bad = await page(server);
    if (bytes !== null) bad.socket.send(bytes);
    else bad.socket.send(Buffer.from([0xff, 0xfe]), { binary: false });
    expect(await bad.closed).toBe(code);
    expect((await page(server)).received[0]?.kind).toBe('snapshot');
  });

  it('that sends nonsense is refused and stays', async () => {
    const { server } = await running();
    const one = await page(server);
    one.socket.send('not json');
    await expect.poll(() => one.received.at(-1)).toMatchObject({ kind: 'refused', seq: 2 });
    expect(one.socket.readyState).toBe(one.socket.OPEN);
  });

  it('that reads nothing slows nobody: others hear everything', { timeout: 60_000 }, async () => {
    const { server, session } = await running();
    const stuck = await page(server);
    const quick = await page(server);
    stuck.socket.pause();
    const values: number[] = [];
    for (let batch = 0; batch < 400; batch += 1) {
      for (let i = 0; i < 400; i += 1) {
        const atMs = batch * 400 + i;
        session.happen(volts(atMs, 5 + 1 / (atMs + 7)));
        values.push(atMs);
      }
      session.clock.advance(50);
      await new Promise(setImmediate);
    }
    const heard = (received: typeof quick.received) =>
      received.flatMap((message) =>
        message.kind === 'changes' ? message.readings.map(([, atMs]) => atMs) : [],
      );
    await expect.poll(() => heard(quick.received).length, { timeout: 20_000 }).toBe(values.length);
    expect(heard(quick.received)).toEqual(values);
    stuck.socket.resume();
    await expect
      .poll(() => (session.tell(tick(160_100)), stuck.received.at(-1)))
      .toMatchObject({ nowMs: 160_100 });
    expect(stuck.received.map(({ seq }) => seq)).toEqual(stuck.received.map((_, i) => i + 1));
    const leftOut = stuck.received.reduce((sum, one) => sum + (one.kind === 'changes' ? one.leftOut : 0), 0);
    // More than the kernel holds for a reader that reads nothing, so that the page was slow indeed.
    expect(leftOut).toBeGreaterThan(1_000);
    expect(heard(stuck.received).length + leftOut).toBe(values.length);
  });

  it('that answers no ping is cut off', async () => {
    const { server, session } = await running();
    const raw = connect(server.port, '127.0.0.1');
    const closed = new Promise<void>((resolve) => raw.on('close', () => resolve()));
    raw.write(
      `GET /live HTTP/1.1\r\nHost: 127.0.0.1:${server.port}\r\nUpgrade: websocket\r\nConnection: Upgrade\r\n` +
        'Sec-WebSocket-Version: 13\r\nSec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n\r\n',
    );
    await new Promise((resolve) => raw.once('data', resolve));
    raw.resume();
    session.clock.advance(15_000);
    session.clock.advance(15_000);
    await closed;
  });
});

describe('closing the server', () => {
  it('waits for nobody who was refused and keeps their own half of the connection open', async () => {
    const { server } = await running();
    const raw = connect({ port: server.port, host: '127.0.0.1', allowHalfOpen: true });
    raw.on('error', () => undefined);
    raw.write(
      `GET /elsewhere HTTP/1.1\r\nHost: 127.0.0.1:${server.port}\r\nUpgrade: websocket\r\nConnection: Upgrade\r\n\r\n`,
    );
    const [answer] = (await once(raw, 'data')) as [Buffer];
    expect(String(answer)).toMatch(/^HTTP\/1\.1 404 /);
    await server.close();
    await expect(handshakeFails(server.port)).resolves.toBe('ECONNREFUSED');
    raw.destroy();
  });

  it('says goodbye to the pages and frees the port', async () => {
    const { server } = await running();
    const one = await page(server);
    await Promise.all([server.close(), server.close()]);
    expect(await one.closed).toBe(1001);
    await expect(handshakeFails(server.port)).resolves.toBe('ECONNREFUSED');
  });
});

function handshakeFails(port: number): Promise<string> {
  return new Promise((resolve) => {
    connect(port, '127.0.0.1').on('error', (error: NodeJS.ErrnoException) => resolve(error.code ?? ''));
  });
}

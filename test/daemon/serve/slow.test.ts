import { connect, type Socket } from 'node:net';
import { expect, it } from 'vitest';
import { page, running } from './running.js';

function raw(port: number, text: string): { socket: Socket; closed: Promise<string> } {
  const socket = connect(port, '127.0.0.1');
  let answer = '';
  socket.on('data', (chunk: Buffer) => (answer += chunk.toString('latin1')));
  socket.on('error', () => undefined);
  const closed = new Promise<string>((resolve) => socket.on('close', () => resolve(answer)));
  socket.write(text);
  return { socket, closed };
}

const UPGRADE =
  'GET /live HTTP/1.1\r\nUpgrade: websocket\r\nConnection: Upgrade\r\nSec-WebSocket-Version: 13\r\n' +
  'Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n';

// It is the network's own time that is bounded here, so that no clock of ours can be moved.
it.each([
  ['says nothing', ''],
  ['begins an upgrade and never ends it', UPGRADE],
  ['begins a request and never ends it', 'GET / HTTP/1.1\r\nHost: 127'],
])('a connection that %s is cut off', { timeout: 20_000 }, async (_, text) => {
  const { server } = await running();
  const { closed } = raw(server.port, text);
  expect(await closed).not.toContain('101 Switching');
});

it.each([
  ['a header of 100 kB', `GET / HTTP/1.1\r\nX: ${'x'.repeat(100_000)}\r\n\r\n`, /^HTTP\/1\.1 431 /],
  ['no HTTP at all', '\x16\x03\x01\x00\xa5\x01\x00\x00\xa1', /^HTTP\/1\.1 400 /],
  [
    'two lengths (request smuggling)',
    'POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 3\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n',
    /^HTTP\/1\.1 400 /,
  ],
  [
    'an upgrade to something else',
    'GET /live HTTP/1.1\r\nHost: x\r\nUpgrade: h2c\r\nConnection: Upgrade\r\n\r\n',
    /^HTTP\/1\.1 403 /,
  ],
])('%s is answered and closed', async (_, text, answer) => {
  const { server } = await running();
  expect(await raw(server.port, text).closed).toMatch(answer);
});

// RFC 6455, section 5: frames as bytes, masked with a key of zeros.
const frame = (first: number, length: number[], body: Buffer = Buffer.alloc(0)): Buffer =>
  Buffer.concat([Buffer.from([first, ...length, 0, 0, 0, 0]), body]);

it.each([
  ['says it is 2^63 bytes long', frame(0x81, [0xff, 0x80, 0, 0, 0, 0, 0, 0, 0])],
  ['says it is 4 GB long', frame(0x81, [0xff, 0, 0, 0, 1, 0, 0, 0, 0])],
  ['is not masked (5.1)', Buffer.from([0x81, 0x02, 0x7b, 0x7d])],
  ['has a reserved bit set (5.2)', frame(0xc1, [0x80])],
  ['has no known kind (5.2)', frame(0x83, [0x80])],
  ['goes on with nothing begun (5.4)', frame(0x80, [0x80])],
  ['is a ping in two pieces (5.5)', frame(0x09, [0x80])],
  ['is a ping of 126 bytes (5.5)', frame(0x89, [0xfe, 0, 126], Buffer.alloc(126))],
])('a frame that %s ends its connection alone', async (_, bytes) => {
  const { server } = await running();
  const good = await page(server);
  const { socket, closed } = raw(server.port, `${UPGRADE}Host: 127.0.0.1:${server.port}\r\n\r\n`);
  await new Promise((resolve) => socket.once('data', resolve));
  socket.write(bytes);
  await closed;
  expect(good.socket.readyState).toBe(good.socket.OPEN);
});

it('a message in ever more pieces is bounded as a whole, and empty pieces too', async () => {
  const { server } = await running();
  const { socket, closed } = raw(server.port, `${UPGRADE}Host: 127.0.0.1:${server.port}\r\n\r\n`);
  await new Promise((resolve) => socket.once('data', resolve));
  socket.write(frame(0x01, [0x80]));
  const piece = frame(0x00, [0xfe, 0xff, 0xff], Buffer.alloc(65_535, 0x20));
  const send = (): void => {
    while (!socket.destroyed && socket.write(piece));
  };
  socket.on('drain', send);
  send();
  await closed;
  expect((await page(server)).received[0]?.kind).toBe('snapshot');
});

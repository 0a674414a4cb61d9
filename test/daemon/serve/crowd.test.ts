import { once } from 'node:events';
import { createServer, connect, type AddressInfo, type Socket } from 'node:net';
import { networkInterfaces } from 'node:os';
import { expect, it, onTestFinished } from 'vitest';
import {
  boundConnections,
  MOST_CONNECTIONS,
  MOST_OF_ONE_ADDRESS,
  MOST_REQUESTS_A_SECOND,
  RequestRate,
} from '../../../daemon/serve/crowd.js';
import { manualClock } from '../../manual-clock.js';
import { ask, handshake, running } from './running.js';

/** Opens so many connections to a server and gives how many are still open when all that will be cut off are. */
async function storm(host: string, port: number, sockets: number, kept: number): Promise<Socket[]> {
  let open: Socket[] = [];
  for (let begun = 0; begun < sockets; begun += 500) {
    const more = Array.from({ length: Math.min(500, sockets - begun) }, () => connect(port, host));
    for (const socket of more) socket.on('error', () => socket.destroy());
    open.push(...more);
    await expect
      .poll(() => (open = open.filter(({ destroyed }) => !destroyed)).length, { timeout: 20_000 })
      .toBeLessThanOrEqual(kept);
  }
  onTestFinished(() => open.forEach((socket) => socket.destroy()));
  return open;
}

it(
  '10,000 sockets: so many are kept and no more, and the page is there again when they have gone',
  { timeout: 120_000 },
  async () => {
    const { server } = await running();
    const open = await storm('127.0.0.1', server.port, 10_000, MOST_CONNECTIONS);
    expect(open.length).toBe(MOST_CONNECTIONS);
    for (const socket of open) socket.destroy();
    await expect
      .poll(async () =>
        ask(server, '/').then(
          ({ status }) => status,
          () => 0,
        ),
      )
      .toBe(200);
    expect(await handshake(server, {})).toBe(101);
  },
);

it('one machine of the network has its share only', async () => {
  const outside = Object.values(networkInterfaces())
    .flatMap((all = []) => all)
    .find(({ internal, family }) => !internal && family === 'IPv4')?.address;
  // A machine without a network: its loopback address has no share of its own.
  const [host, share] =
    outside === undefined ? ['127.0.0.1', MOST_CONNECTIONS] : [outside, MOST_OF_ONE_ADDRESS];
  const server = createServer();
  onTestFinished(() => void server.close());
  boundConnections(server);
  server.listen(0, '0.0.0.0');
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  const open = await storm(host, port, 400, share);
  expect(open.length).toBe(share);
  const here = connect(port, '127.0.0.1');
  await once(here, 'connect');
  open[0]?.destroy();
  here.destroy();
});

it('so many requests a second of one address are answered; others have their own, and the next second is new', () => {
  const clock = manualClock();
  const rate = new RequestRate(clock);
  for (let i = 0; i < MOST_REQUESTS_A_SECOND; i += 1) expect(rate.take('192.0.2.7')).toBe(true);
  expect(rate.take('192.0.2.7')).toBe(false);
  expect(rate.take('192.0.2.8')).toBe(true);
  clock.advance(1000);
  expect(rate.take('192.0.2.7')).toBe(true);
});

it('a flood of requests is told to come again', async () => {
  const { server } = await running();
  for (let i = 0; i < MOST_REQUESTS_A_SECOND; i += 50) {
    await Promise.all(Array.from({ length: 50 }, () => ask(server, '/nowhere')));
  }
  expect(await ask(server, '/')).toMatchObject({ status: 429, headers: { 'retry-after': '1' } });
});

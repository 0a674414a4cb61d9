import { rm } from 'node:fs/promises';
import { createServer } from 'node:http';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { listen, USUAL_PORT } from '../../../daemon/serve/port.js';
import { startServer, type RunningServer } from '../../../daemon/serve/server.js';
import { cabin } from './cabin.js';
import { pageFolder, running } from './running.js';

describe('the port', () => {
  it('that is in use is named with the cure', async () => {
    const { server } = await running();
    const second = startServer({ port: server.port, pageFolder: await pageFolder(), hub: cabin().hub });
    await expect(second).rejects.toThrow(
      `port ${server.port} on 127.0.0.1 is in use by another program, perhaps another session; stop that one, or name another port with --port`,
    );
  });

  it.each(['127.0.0.1', '0.0.0.0'])(
    'that a session of ours holds on %s is named with who it is',
    async (host) => {
      const holder = {
        program: 'railminder',
        design: 'signal cabin',
        process: 4711,
        startedAt: '2026-11-25T08:39:12.345Z',
      } as const;
      const { server } = await running(cabin(), { host, holder });
      await expect(listen(createServer(), server.port, host)).rejects.toThrow(
        `port ${server.port} on ${host} is in use by a session that watches "signal cabin" since 2026-11-25T08:39:12.345Z (process 4711); stop that one`,
      );
    },
  );

  it.each([
    [
      'a text that a terminal obeys',
      '{"program":"railminder","design":"\\u001b[2J","process":1,"startedAt":"2026-11-25T08:39:12Z"}',
    ],
    ['no end', 'x'.repeat(100_000)],
    ['another program', '{}'],
  ])('that somebody else holds is not believed: %s', async (_, body) => {
    const other = createServer((__, response) => response.end(body));
    onTestFinished(() => void other.close());
    const port = await listen(other, 0);
    await expect(listen(createServer(), port)).rejects.toThrow(/is in use by another program, perhaps/);
  });

  it('is the next free one when the user named none', async () => {
    const folder = await pageFolder();
    const servers: RunningServer[] = [];
    for (let i = 0; i < 2; i += 1) {
      servers.push(await startServer({ port: null, pageFolder: folder, hub: cabin().hub }));
    }
    onTestFinished(async () => void (await Promise.all(servers.map((server) => server.close()))));
    const [first, second] = servers.map(({ port }) => port);
    expect(first).toBeGreaterThanOrEqual(USUAL_PORT);
    expect(second).toBeGreaterThan(first ?? 0);
    expect(servers[1]?.address).toBe(`http://127.0.0.1:${second}/`);
  });

  it('is on the loopback address only', async () => {
    const server = createServer();
    onTestFinished(() => void server.close());
    await listen(server, 0);
    expect(server.address()).toMatchObject({ address: '127.0.0.1', family: 'IPv4' });
  });
});

describe('the page folder', () => {
  it('without a page is named with the cure, and no port is taken', async () => {
    const folder = await pageFolder();
    await rm(join(folder, 'index.html'));
    const started = startServer({ port: null, pageFolder: folder, hub: cabin().hub });
    await expect(started).rejects.toThrow(
      /index\.html: the page is not there; run "npm run build" to make it/,
    );
    await expect(
      startServer({ port: 0, pageFolder: join(folder, 'none'), hub: cabin().hub }),
    ).rejects.toThrow(/npm run build/);
  });
});

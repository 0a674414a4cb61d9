import { networkInterfaces } from 'node:os';
import { describe, expect, it } from 'vitest';
import type { DesignDesk } from '../../../daemon/serve/design-messages.js';
import type { JobSource } from '../../../daemon/serve/job-ask.js';
import { cabin, volts } from './cabin.js';
import { ACT, bearer, LOOK, openToNetwork, WRONG } from './network.js';
import { ask, handshake, page } from './running.js';

const refusing = (): Promise<never> => Promise.reject(new Error('reached'));
const DESK: DesignDesk = {
  open: refusing,
  preview: refusing,
  begin: refusing,
  rail: refusing,
  save: refusing,
};
const JOB: JobSource = { answer: () => Promise.resolve({ ok: false, status: 404, why: 'reached' }) };

describe('without a key', () => {
  it.each([
    '/',
    '/index.html',
    '/assets/main.js',
    '/job/list',
    '/job/csv?recording=a.ndjson&form=columns',
    '/design/open',
    '/holder?',
    '/nowhere',
    '/enter',
    '//enter/',
  ])('nothing of %s is told', async (path) => {
    const { server } = await openToNetwork(cabin(), { desk: DESK, job: JOB });
    for (const headers of [{}, bearer(WRONG), bearer(''), { cookie: `railminder-${server.port}=${WRONG}` }]) {
      const { status, body } = await ask(server, path, { headers });
      expect(status).toBe(401);
      expect(body).toMatch(/^This page is open to/);
    }
    expect(await handshake(server, {})).toBe(401);
    expect(await handshake(server, bearer(WRONG))).toBe(401);
  });

  it('no request body is waited for: nothing to hold a connection with', async () => {
    const { server } = await openToNetwork(cabin(), { desk: DESK });
    const { status, headers } = await ask(server, '/design/save', {
      method: 'POST',
      headers: { 'content-type': 'application/json', 'content-length': '2000000' },
    });
    expect({ status, connection: headers.connection }).toEqual({ status: 401, connection: 'close' });
  });

  it('the address of a link with another key opens nothing', async () => {
    const { server } = await openToNetwork();
    for (const key of [
      WRONG,
      '',
      `${ACT}/`,
      `${ACT}?`,
      `${ACT.slice(1)}`,
      `%61${ACT.slice(1)}`,
      '../',
      'null',
    ]) {
      const { status, headers } = await ask(server, `/enter/${key}`);
      expect({ key, status, cookie: headers['set-cookie'] }).toEqual({ key, status: 403, cookie: undefined });
    }
  });
});

describe('a link', () => {
  it('puts its key into a cookie that scripts and other sites get nowhere, and goes on to the page', async () => {
    const { server } = await openToNetwork();
    const { status, headers, body } = await ask(server, new URL(server.link('act', '127.0.0.1')).pathname);
    expect(status).toBe(200);
    expect(headers['set-cookie']).toEqual([
      `railminder-${server.port}=${ACT}; Path=/; HttpOnly; SameSite=Strict`,
    ]);
    expect(headers).toMatchObject({ refresh: '0; url=/', 'referrer-policy': 'no-referrer' });
    expect(headers['cache-control']).toBe('no-store');
    expect(body).not.toContain(ACT);
    const cookie = headers['set-cookie']?.[0]?.split(';')[0] ?? '';
    expect((await ask(server, '/', { headers: { cookie } })).status).toBe(200);
    expect(await handshake(server, { cookie })).toBe(101);
  });

  it('that only looks gets the page and everything that happens, and no command of it is carried out', async () => {
    const commands: string[] = [];
    const session = cabin({ onCommand: ({ kind }) => (commands.push(kind), null) });
    const { server } = await openToNetwork(session);
    const looking = await page(server, bearer(LOOK));
    expect(looking.received[0]).toMatchObject({ kind: 'snapshot', session: { mayAct: false } });
    for (const command of [
      { kind: 'note', text: 'x' },
      { kind: 'acknowledge', alarm: 'x' },
      { kind: 'shelve', alarm: 'x', minutes: null },
      { kind: 'cut-off', output: 'x', order: 'on', inSight: true },
      { kind: 'probe', instrument: 'meter', channel: 'volts', point: null },
      { kind: 'typed', instrument: 'meter', channel: 'volts', text: '5' },
      { kind: 'load', load: 'full' },
      { kind: 'step', step: 'x', action: 'begin' },
      { kind: 'demo-fault', fault: 'x' },
    ]) {
      looking.socket.send(JSON.stringify(command));
    }
    await expect.poll(() => looking.received.filter(({ kind }) => kind === 'refused').length).toBe(9);
    expect(JSON.stringify(looking.received.at(-1))).toContain('only looks');
    expect(commands).toEqual([]);
    session.tell(volts(500, 5));
    await expect.poll(() => looking.received.at(-1)?.kind).toBe('changes');
    looking.socket.send('{"kind":"snapshot"}');
    await expect.poll(() => looking.received.at(-1)?.kind).toBe('snapshot');

    const acting = await page(server, bearer(ACT));
    expect(acting.received[0]).toMatchObject({ session: { mayAct: true } });
    acting.socket.send(JSON.stringify({ kind: 'note', text: 'lamp out' }));
    await expect.poll(() => commands).toEqual(['note']);
  });

  it('that only looks saves no design', async () => {
    const { server } = await openToNetwork(cabin(), { desk: DESK });
    const save = (key: string) =>
      ask(server, '/design/save', {
        method: 'POST',
        headers: { 'content-type': 'application/json', ...bearer(key) },
      });
    const refused = await save(LOOK);
    expect(refused.status).toBe(403);
    expect(refused.body).toContain('only looks');
    expect((await save(ACT)).status).toBe(400);
  });
});

describe('under which name', () => {
  it("the page is asked for on a network: its address and this machine's own names, with a key all the same", async () => {
    const { server } = await openToNetwork();
    const { port } = server;
    for (const host of [
      `127.0.0.1:${port}`,
      `localhost:${port}`,
      `signalbox:${port}`,
      `Signalbox.local:${port}`,
    ]) {
      expect((await ask(server, '/', { headers: { host } })).status).toBe(401);
      expect((await ask(server, '/', { headers: { host, ...bearer(ACT) } })).status).toBe(200);
      expect(await handshake(server, { host, origin: `http://${host.toLowerCase()}`, ...bearer(ACT) })).toBe(
        101,
      );
    }
  });

  it('it is refused even with the right key: a foreign name that points here (DNS rebinding)', async () => {
    const { server } = await openToNetwork();
    const { port } = server;
    for (const host of [
      `evil.example:${port}`,
      `signalbox.evil.example:${port}`,
      `signalbox.local.:${port}`,
      `127.0.0.1.evil.example:${port}`,
      `192.0.2.7:${port}`,
      `0.0.0.0:${port}`,
      `127.0.0.2:${port}`,
      `127.1:${port}`,
      `[::ffff:127.0.0.1]:${port}`,
      `evil.example@127.0.0.1:${port}`,
      `127.0.0.1:${port}, evil.example`,
      'signalbox',
    ]) {
      const headers = { host, ...bearer(ACT) };
      const { status } = await ask(server, '/', { headers });
      expect({ host, status }).toEqual({ host, status: 403 });
      expect(await handshake(server, { ...headers, origin: `http://${host}` })).toBe(403);
    }
  });

  it('a socket of a page of another site is refused, whatever cookie the browser sends along', async () => {
    const { server } = await openToNetwork();
    const cookie = `railminder-${server.port}=${ACT}`;
    for (const origin of [
      'http://evil.example',
      'null',
      `https://127.0.0.1:${server.port}`,
      'http://127.0.0.1',
    ]) {
      expect(await handshake(server, { cookie, origin })).toBe(403);
    }
  });

  it("it is reached from the network under the machine's address", async () => {
    const outside = Object.values(networkInterfaces())
      .flatMap((all = []) => all)
      .find(({ internal, family }) => !internal && family === 'IPv4')?.address;
    const { server } = await openToNetwork();
    // A machine without a network has its loopback address only.
    const host = outside ?? '127.0.0.1';
    expect((await ask(server, '/', { host, headers: bearer(ACT) })).status).toBe(200);
    expect((await ask(server, '/', { host })).status).toBe(401);
  });
});

it('no answer allows other sites to read it (CORS) or to frame it', async () => {
  const { server } = await openToNetwork();
  for (const [path, key] of [
    ['/', ACT],
    ['/', WRONG],
    [`/enter/${ACT}`, WRONG],
    ['/nowhere', ACT],
  ] as const) {
    const headers = { ...bearer(key), origin: 'http://evil.example' };
    const answer = await ask(server, path, { headers });
    expect(Object.keys(answer.headers).filter((name) => name.startsWith('access-control'))).toEqual([]);
    expect(answer.headers['content-security-policy']).toContain("frame-ancestors 'none'");
    expect(answer.headers['x-content-type-options']).toBe('nosniff');
  }
});

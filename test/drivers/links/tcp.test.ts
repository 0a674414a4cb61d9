import { createServer, type AddressInfo, type Server, type Socket } from 'node:net';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Link } from '../../../drivers/link.js';
import { tcpLink, tcpTroubleInWords } from '../../../drivers/links/tcp.js';
import type { Clock } from '../../../drivers/clock.js';
import { listenTo, times } from './heard.js';
import { settle } from './settle.js';

/** Node warns of a leak at eleven listeners of one signal. */
const MORE_THAN_LISTENERS = 15;

describe('tcpLink', () => {
  let server: Server;
  let sockets: Socket[];
  let port: number;
  let link: Link;

  const listen = (at: number): Promise<void> =>
    new Promise((resolve) => server.listen(at, '127.0.0.1', resolve));

  beforeEach(async () => {
    sockets = [];
    server = createServer((socket) => {
      sockets.push(socket);
      socket.on('error', () => undefined); // the far end of a torn connection has no say in these tests
    });
    await listen(0);
    port = (server.address() as AddressInfo).port;
    link = tcpLink({ host: '127.0.0.1', port });
  });

  afterEach(async () => {
    await link.stop();
    await hangUp();
  });

  async function hangUp(): Promise<void> {
    sockets.forEach((socket) => socket.destroy());
    await new Promise((resolve) => server.close(resolve));
  }

  it('carries bytes both ways', async () => {
    const heard = listenTo(link);
    await heard.until((h) => times(h, 'open') === 1);
    await link.write(Buffer.from('READ?\n'));
    const asked = await new Promise((resolve) =>
      sockets[0]?.once('data', (bytes) => resolve(bytes.toString())),
    );
    sockets[0]?.write('12.06\n');
    await heard.until((h) => h.text() === '12.06\n');
    expect(asked).toBe('READ?\n');
    expect(heard.states).toEqual([{ kind: 'open', path: `127.0.0.1:${port}` }]);
  });

  it.each(['end', 'destroy', 'resetAndDestroy'] as const)(
    'notices %s at the far end and connects again',
    async (how) => {
      const heard = listenTo(link);
      await heard.until((h) => times(h, 'open') === 1 && sockets.length === 1);
      sockets[0]?.[how]();
      await heard.until((h) => times(h, 'lost') === 1);
      await expect(link.write(Buffer.from('OUTP ON\n'))).rejects.toMatchObject({ code: 'link-not-open' });
      await heard.until((h) => times(h, 'back') === 1);
      expect(times(heard, 'lost')).toBe(1);
    },
  );

  it('says that nothing listens there, and opens once something does', async () => {
    await hangUp();
    const heard = listenTo(link);
    await heard.until((h) => times(h, 'waiting') === 1);
    await listen(port);
    await heard.until((h) => times(h, 'open') === 1);
    expect(heard.states[0]).toMatchObject({ why: expect.stringMatching(/nothing listens on 127/) as string });
  });

  it('tries for ever without keeping anything of each try', async () => {
    await hangUp();
    const warnings: Error[] = [];
    const warned = (warning: Error): void => void warnings.push(warning);
    process.on('warning', warned);
    let tries = 0;
    const enough = new Promise<void>((resolve) => {
      const hurried: Clock = {
        nowMs: () => 0,
        after(_delayMs, action) {
          if ((tries += 1) === MORE_THAN_LISTENERS) resolve();
          const timer = setImmediate(action);
          return () => clearImmediate(timer);
        },
      };
      link = tcpLink({ host: '127.0.0.1', port, clock: hurried });
    });
    listenTo(link);
    await enough;
    await settle();
    process.off('warning', warned);
    expect(warnings).toEqual([]);
  });

  it('lets a try go that is under way when it is stopped', async () => {
    // Of the addresses that lead nowhere (RFC 5737): nobody answers there.
    link = tcpLink({ host: '192.0.2.1', port: 5025 });
    const heard = listenTo(link);
    await settle();
    await link.stop();
    expect(heard.states.at(-1)).toEqual({ kind: 'closed' });
  });

  it('puts what the system says in plain words', () => {
    const target = { host: 'meter', port: 5025, name: 'meter:5025' };
    const told = (code: string): string =>
      tcpTroubleInWords(target, Object.assign(new Error('x'), { code })).message;
    expect(told('ENOTFOUND')).toMatch(/the name meter is not known; check it/);
    expect(told('ETIMEDOUT')).toMatch(/meter:5025 does not answer; check that it is switched on/);
    expect(told('EWHATEVER')).toBe('meter:5025 does not connect (x)');
  });
});

import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { describe, expect, it, onTestFinished } from 'vitest';
import { postText } from '../../../daemon/hooks/post-hook.js';

const never = new AbortController().signal;

async function serverThat(
  answers: (request: IncomingMessage, response: ServerResponse) => void,
): Promise<string> {
  const server = createServer(answers);
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  onTestFinished(
    () =>
      new Promise<void>((resolve) => {
        server.closeAllConnections();
        server.close(() => resolve());
      }),
  );
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}/alarm`;
}

describe('an address that is posted to', () => {
  it('gets the text as JSON', async () => {
    let got = '';
    const address = await serverThat((request, response) => {
      got = `${request.method} ${request.headers['content-type']} `;
      request.on('data', (bytes: Buffer) => (got += bytes.toString()));
      request.on('end', () => response.writeHead(204).end());
    });
    await postText(address, '{"alarm":"a"}', never);
    expect(got).toBe('POST application/json {"alarm":"a"}');
  });

  it('with a name and a password in it gets them as RFC 7617 has them', async () => {
    let got: string | undefined;
    const address = await serverThat((request, response) => {
      got = request.headers.authorization;
      response.end();
    });
    // The pair of RFC 7617, section 2.
    await postText(address.replace('//', '//Aladdin:open%20sesame@'), '{}', never);
    expect(got).toBe('Basic QWxhZGRpbjpvcGVuIHNlc2FtZQ==');
  });

  it('that refuses is told with its code', async () => {
    const address = await serverThat(
      (_request, response) => void response.writeHead(503).end('x'.repeat(1e5)),
    );
    await expect(postText(address, '{}', never)).rejects.toThrow(/^it answered 503 Service Unavailable$/);
  });

  it('that sends elsewhere isn’t followed: the alarm goes where it was meant to', async () => {
    const address = await serverThat(
      (_request, response) => void response.writeHead(302, { location: 'http://127.0.0.1:1/' }).end(),
    );
    await expect(postText(address, '{}', never)).rejects.toThrow(/can't be reached/);
  });

  it('that nobody listens at is told', async () => {
    await expect(postText('http://127.0.0.1:1/', '{}', never)).rejects.toThrow(/can't be reached/);
  });

  it('that breaks the connection off is told', async () => {
    const address = await serverThat((request) => void request.socket.resetAndDestroy());
    await expect(postText(address, '{}', never)).rejects.toThrow(/^it can't be reached: ECONNRESET$/);
  });

  it.each([200, 500])('that answers %i without an end is let go, its words unread', async (code) => {
    let hasLetGo: () => void = () => undefined;
    const letGo = new Promise<void>((resolve) => (hasLetGo = resolve));
    const address = await serverThat((_request, response) => {
      response.writeHead(code);
      const more = (): boolean => response.write('x'.repeat(1e5)) && more();
      response.on('drain', more).on('close', () => hasLetGo());
      more();
    });
    const posted = postText(address, '{}', never);
    if (code === 200) await expect(posted).resolves.toBeUndefined();
    else await expect(posted).rejects.toThrow(/^it answered 500/);
    await letGo;
  });

  it('that answers with more headers than anybody reads is told', async () => {
    const address = await serverThat((_request, response) => {
      for (let number = 0; number < 100; number += 1) response.setHeader(`x-${number}`, 'x'.repeat(1000));
      response.end();
    });
    await expect(postText(address, '{}', never)).rejects.toThrow(/^it can't be reached: \S/);
  });

  it('that never answers is given up', async () => {
    const ending = new AbortController();
    const address = await serverThat(() => ending.abort());
    await expect(postText(address, '{}', ending.signal)).rejects.toThrow(/took too long and was given up/);
  });
});

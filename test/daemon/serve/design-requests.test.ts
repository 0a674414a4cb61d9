import { once } from 'node:events';
import { request, type IncomingMessage } from 'node:http';
import { onTestFinished, describe, expect, it } from 'vitest';
import type { DesignDesk } from '../../../daemon/serve/design-messages.js';
import { startServer, type RunningServer } from '../../../daemon/serve/server.js';
import { testDesk } from '../desk/desk.js';
import { CABIN } from '../desk/cabin-text.js';
import { cabin } from './cabin.js';
import { ask, pageFolder } from './running.js';

async function serving(desk?: DesignDesk): Promise<RunningServer> {
  const { hub, clock } = cabin();
  const used = desk ?? (await testDesk()).desk;
  const server = await startServer({ port: 0, pageFolder: await pageFolder(), hub, wall: clock, desk: used });
  onTestFinished(() => server.close());
  return server;
}

async function post(
  server: RunningServer,
  path: string,
  body: string,
  headers: Record<string, string> = {},
): Promise<{ readonly status: number; readonly body: string }> {
  const asked = request({
    host: '127.0.0.1',
    port: server.port,
    path,
    method: 'POST',
    agent: false,
    headers: { 'content-type': 'application/json', origin: server.address.slice(0, -1), ...headers },
  });
  asked.on('error', () => undefined);
  asked.end(body);
  const [response] = (await once(asked, 'response')) as [IncomingMessage];
  let text = '';
  for await (const chunk of response) text += String(chunk);
  return { status: response.statusCode ?? 0, body: text };
}

const PREVIEW = JSON.stringify({ text: CABIN, edits: [], load: 'typical', draws: 'quick' });

describe('requests about designs', () => {
  it('open, preview and save, for our own page', async () => {
    const server = await serving();
    const { status, body, headers } = await ask(server, '/design/open');
    expect(status).toBe(200);
    expect(headers['content-type']).toBe('application/json; charset=utf-8');
    expect(headers['content-security-policy']).toMatch(/^default-src 'none'/);
    const { file, version } = JSON.parse(body) as { file: string; version: string };
    const preview = await post(server, '/design/preview', PREVIEW);
    expect(JSON.parse(preview.body)).toMatchObject({ text: CABIN, problems: [] });
    const saved = await post(server, '/design/save', JSON.stringify({ text: CABIN, file, version }));
    expect(JSON.parse(saved.body)).toMatchObject({ file, why: null });
  });

  it.each([
    ['a page of somebody else', { origin: 'https://evil.example' }, 403],
    ["somebody else's name that points here", { host: 'evil.example' }, 403],
    ['a form of another page', { 'content-type': 'text/plain' }, 415],
    ['no page at all, but with our own type', { 'content-type': 'application/json; charset=utf-8' }, 200],
  ])('%s: %j is answered %d', async (_who, headers, status) => {
    expect((await post(await serving(), '/design/preview', PREVIEW, headers)).status).toBe(status);
  });

  it.each([
    ['nothing', ''],
    ['no JSON', '{"text":'],
    ['another shape', '{"text":5}'],
    ['a key too many', JSON.stringify({ ...(JSON.parse(PREVIEW) as object), more: 1 })],
    [
      'an empty path',
      JSON.stringify({ text: '', edits: [{ path: [], value: 1 }], load: 'full', draws: 'quick' }),
    ],
    [
      'deep, and whole',
      PREVIEW.replace(
        '"edits":[]',
        `"edits":[{"path":["a"],"value":${'['.repeat(3_000)}${']'.repeat(3_000)}}]`,
      ),
    ],
    ['deep beyond measure', `{"text":"","edits":[{"path":["a"],"value":${'['.repeat(20_000)}`],
  ])('%s is refused with 400', async (_what, body) => {
    expect((await post(await serving(), '/design/preview', body)).status).toBe(400);
  });

  it('more than a design can be is refused before it is held', async () => {
    const answered = await post(
      await serving(),
      '/design/preview',
      `{"text":"${'x'.repeat(3_000_000)}"}`,
    ).catch(() => ({ status: 413 }));
    expect(answered.status).toBe(413);
  });

  it('GET where POST belongs, and the other way round', async () => {
    const server = await serving();
    expect((await ask(server, '/design/preview')).status).toBe(405);
    expect((await post(server, '/design/open', '{}')).status).toBe(405);
    expect((await ask(server, '/design/other')).status).toBe(404);
  });

  it('what can not be worked out is told, and the next is answered', async () => {
    const { desk } = await testDesk();
    let isFirst = true;
    const server = await serving({
      ...desk,
      preview(asked) {
        if (!isFirst) return desk.preview(asked);
        isFirst = false;
        return Promise.reject(new Error('the design takes too long to work out'));
      },
    });
    expect(await post(server, '/design/preview', PREVIEW)).toEqual({
      status: 503,
      body: 'the design takes too long to work out\n',
    });
    expect((await post(server, '/design/preview', PREVIEW)).status).toBe(200);
  });
});

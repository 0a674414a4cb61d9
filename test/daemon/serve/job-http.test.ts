import { once } from 'node:events';
import { request, type IncomingMessage } from 'node:http';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import type { JobAsk, JobAnswer, JobSource } from '../../../daemon/serve/job-ask.js';
import { startServer, type RunningServer } from '../../../daemon/serve/server.js';
import { desk, jobFolder, linksOut } from '../job/job-folder.js';
import { cabin } from './cabin.js';
import { ask, pageFolder } from './running.js';

async function serving(job: JobSource): Promise<RunningServer> {
  const server = await startServer({ port: 0, pageFolder: await pageFolder(), hub: cabin().hub, job });
  onTestFinished(() => server.close());
  return server;
}

/** A real folder behind a real server; the reading is done on this thread. */
async function servingFolder(): Promise<{ readonly server: RunningServer; readonly folder: string }> {
  const folder = await jobFolder();
  await linksOut(folder);
  const own = desk(folder);
  return { server: await serving({ answer: (one) => own.answer(one, null) }), folder };
}

/** Answers everything with what the test decides. */
function scripted(answer: (ask: JobAsk, signal: AbortSignal) => Promise<JobAnswer>): JobSource {
  return { answer };
}

const ROUTES = [
  'outcome?recording=',
  'overview?recording=',
  'state?at=0&recording=',
  'compare?after=healthy.ndjson&before=',
  'compare?before=healthy.ndjson&after=',
  'report?recording=',
  'csv?form=columns&recording=',
] as const;

describe('answers about recordings', () => {
  it('are JSON that nobody guesses the type of, keeps or reads from elsewhere', async () => {
    const { server } = await servingFolder();
    for (const path of [
      'list',
      'outcome?recording=healthy.ndjson',
      'overview?recording=healthy.ndjson&from=1000&to=60000&most=100',
      'state?recording=healthy.ndjson&at=60000',
      'compare?before=heatsink-missing.ndjson&after=healthy.ndjson',
    ]) {
      const { status, headers, body } = await ask(server, `/job/${path}`);
      expect({ path, status }).toEqual({ path, status: 200 });
      expect(headers).toMatchObject({
        'content-type': 'application/json',
        'x-content-type-options': 'nosniff',
        'cache-control': 'no-store',
        'cross-origin-resource-policy': 'same-origin',
      });
      expect(headers['access-control-allow-origin']).toBeUndefined();
      expect(typeof JSON.parse(body)).toBe('object');
    }
  });

  it('the report runs no script, whatever stands in it', async () => {
    const { server } = await servingFolder();
    const { status, headers, body } = await ask(server, '/job/report?recording=healthy.ndjson');
    expect({ status, type: headers['content-type'] }).toEqual({
      status: 200,
      type: 'text/html; charset=utf-8',
    });
    expect(headers['content-security-policy']).toMatch(
      /^default-src 'none'; style-src 'sha256-[A-Za-z0-9+/]{43}='; img-src data:; base-uri 'none'; frame-ancestors 'none'; form-action 'none'$/,
    );
    expect(body).toMatch(/^<!doctype html>/);
  });

  it('tables come as files with a name (RFC 6266, RFC 8187)', async () => {
    const { server } = await servingFolder();
    const { headers, body } = await ask(server, '/job/csv?recording=healthy.ndjson&form=readings');
    expect(headers['content-disposition']).toBe(
      `attachment; filename="healthy-readings.csv"; filename*=UTF-8''healthy-readings.csv`,
    );
    expect(headers['content-type']).toBe('text/csv; charset=utf-8; header=present');
    expect(body.split('\r\n')[0]).toMatch(/^time \(ISO 8601\),since start/);
    const strange = await serving(scripted(() => Promise.resolve({ ok: true, chunks: of('a\r\n') })));
    const name = encodeURIComponent('Stellwerk (größer) 1.ndjson');
    const { headers: named } = await ask(strange, `/job/csv?recording=${name}&form=columns`);
    expect(named['content-disposition']).toBe(
      `attachment; filename="Stellwerk (gr__er) 1-columns.csv"; filename*=UTF-8''Stellwerk%20%28gr%C3%B6%C3%9Fer%29%201-columns.csv`,
    );
  });

  it('HEAD gives the same without a body; other methods give nothing', async () => {
    const { server } = await servingFolder();
    const path = '/job/csv?recording=healthy.ndjson&form=columns';
    expect(await ask(server, path, { method: 'HEAD' })).toMatchObject({ status: 200, body: '' });
    for (const method of ['POST', 'PUT', 'DELETE', 'OPTIONS']) {
      expect((await ask(server, path, { method })).status).toBe(405);
    }
  });
});

describe('no path out of the folder', () => {
  // Ways around a path check that are publicly listed (OWASP, path traversal), and links.
  const names = [
    '../secret.ndjson',
    '..%2fsecret.ndjson',
    '%2e%2e%2fsecret.ndjson',
    '%252e%252e%252fsecret.ndjson',
    '..%5csecret.ndjson',
    '..%c0%afsecret.ndjson',
    '%2fetc%2fpasswd',
    '/etc/passwd%00.ndjson',
    'healthy.ndjson%00',
    'healthy.ndjson%00.gz',
    'healthy.ndjson/',
    'elsewhere%2fsecret.ndjson',
    'link.ndjson',
    'folder.ndjson',
    'letter.txt',
    '.healthy.ndjson.overview',
    'C:%5csecret.ndjson',
    'file:///etc/passwd',
    `${'a'.repeat(200)}.ndjson`,
    'a%0d%0aSet-Cookie:x.ndjson',
    '%F0%9F%92%A1.ndjson',
    '',
  ];

  it.each(ROUTES)('%s', async (route) => {
    const { server, folder } = await servingFolder();
    for (const name of [...names, encodeURIComponent(join(folder, 'healthy.ndjson'))]) {
      const { status, body, headers } = await ask(server, `/job/${route}${name}`);
      expect({ name, status, isRefused: status === 400 || status === 404 }).toMatchObject({
        isRefused: true,
      });
      expect(body).not.toContain(folder);
      expect(body.length).toBeLessThan(300);
      expect(headers['content-type']).toBe('text/plain; charset=utf-8');
    }
  });

  it.each([
    ['/job/', 404],
    ['/job/list/../../secret.txt', 404],
    ['/job/../secret.txt', 404],
    ['/job/%2e%2e/secret.txt', 404],
    ['/job/constructor', 404],
    ['/job/overview', 400],
    ['/job/overview?recording=healthy.ndjson&recording=changed.ndjson', 400],
    ['/job/overview?recording=healthy.ndjson&from=-1', 400],
    ['/job/overview?recording=healthy.ndjson&from=5&to=5', 400],
    ['/job/overview?recording=healthy.ndjson&most=4001', 400],
    ['/job/overview?recording=healthy.ndjson&most=1e3', 400],
    ['/job/overview?recording=healthy.ndjson&to=99999999999999', 400],
    ['/job/state?recording=healthy.ndjson', 400],
    ['/job/state?recording=healthy.ndjson&at=NaN', 400],
    ['/job/csv?recording=healthy.ndjson&form=../columns', 400],
    ['/job/csv?recording=healthy.ndjson&form=constructor', 400],
    ['/job/report?recording=%', 400],
    [`/job/report?recording=${'a'.repeat(5000)}.ndjson`, 414],
    ['/job/report?recording=notes.ndjson', 422],
  ])('%s: %d', async (path, status) => {
    const { server } = await servingFolder();
    expect((await ask(server, path)).status).toBe(status);
  });

  it("none for another page: neither under somebody else's name nor from elsewhere", async () => {
    const { server } = await servingFolder();
    const path = '/job/list';
    const host = `127.0.0.1:${server.port}`;
    expect((await ask(server, path, { headers: { host: `evil.example:${server.port}` } })).status).toBe(403);
    for (const [site, status] of [
      ['cross-site', 403],
      ['same-site', 403],
      ['same-origin', 200],
      ['none', 200],
    ] as const) {
      const { status: found } = await ask(server, path, { headers: { host, 'sec-fetch-site': site } });
      expect({ site, found }).toEqual({ site, found: status });
    }
  });
});

describe('trouble', () => {
  it('too much at once is refused, and room comes back', async () => {
    const waiting: (() => void)[] = [];
    const server = await serving(
      scripted(async () => {
        await new Promise<void>((resolve) => waiting.push(resolve));
        return { ok: true, chunks: of('{}') };
      }),
    );
    const asked = Array.from({ length: 16 }, () => ask(server, '/job/list'));
    await expect.poll(() => waiting.length).toBe(16);
    const { status, headers } = await ask(server, '/job/list');
    expect({ status, after: headers['retry-after'] }).toEqual({ status: 503, after: '1' });
    for (const release of waiting.splice(0)) release();
    for (const { status: fine } of await Promise.all(asked)) expect(fine).toBe(200);
    const again = ask(server, '/job/list');
    await expect.poll(() => waiting.length).toBe(1);
    waiting[0]?.();
    expect((await again).status).toBe(200);
  });

  it('in the middle of a body breaks the connection, so that half a table never looks whole', async () => {
    const server = await serving(
      scripted(() => Promise.resolve({ ok: true, chunks: brokenAfter('time,value\r\n') })),
    );
    await expect(ask(server, '/job/csv?recording=a.ndjson&form=columns')).rejects.toThrow(/aborted|hang up/);
    expect((await ask(server, '/')).status).toBe(200);
  });

  it('a browser that goes away stops the reading', async () => {
    let signal: AbortSignal | null = null;
    let read = 0;
    const endless = async function* () {
      for (;;) {
        read += 1;
        yield await Promise.resolve('x'.repeat(65_536));
      }
    };
    const server = await serving(
      scripted((_, given) => {
        signal = given;
        return Promise.resolve({ ok: true, chunks: endless() });
      }),
    );
    const path = '/job/csv?recording=a.ndjson&form=readings';
    const asked = request({ host: '127.0.0.1', port: server.port, path, agent: false }).end();
    const [response] = (await once(asked, 'response')) as [IncomingMessage];
    response.destroy();
    await expect.poll(() => signal?.aborted).toBe(true);
    const then = read;
    expect((await ask(server, '/')).status).toBe(200);
    expect(read - then).toBeLessThan(3);
  });
});

async function* of(...texts: readonly string[]): AsyncGenerator<string, void, void> {
  for (const text of texts) yield await Promise.resolve(text);
}

async function* brokenAfter(text: string): AsyncGenerator<string, void, void> {
  yield await Promise.resolve(text);
  throw new Error('the disk went away');
}

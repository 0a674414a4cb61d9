import { describe, expect, it } from 'vitest';
import { ask, running } from './running.js';

describe('the page', () => {
  it('is served with its type and the exact policy', async () => {
    const { server } = await running();
    const { status, headers, body } = await ask(server, '/');
    expect({ status, body }).toEqual({ status: 200, body: '<!doctype html><title>cabin</title>' });
    expect(headers['content-type']).toBe('text/html; charset=utf-8');
    expect(headers['content-security-policy']).toBe(
      "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; base-uri 'none'; frame-ancestors 'none'; form-action 'none'",
    );
    expect(headers['x-content-type-options']).toBe('nosniff');
    expect(headers['access-control-allow-origin']).toBeUndefined();
    expect((await ask(server, '/assets/main.js?x=1')).headers['content-type']).toBe(
      'text/javascript; charset=utf-8',
    );
  });

  it('answers HEAD without a body and nothing but GET and HEAD', async () => {
    const { server } = await running();
    expect(await ask(server, '/', { method: 'HEAD' })).toMatchObject({ status: 200, body: '' });
    for (const method of ['POST', 'PUT', 'DELETE', 'OPTIONS']) {
      const { status, headers } = await ask(server, '/', { method });
      expect({ status, allow: headers.allow }).toEqual({ status: 405, allow: 'GET, HEAD' });
    }
  });

  // Ways around a path check that are publicly listed (OWASP, path traversal).
  it.each([
    '/../secret.txt',
    '/assets/../../secret.txt',
    '/%2e%2e/secret.txt',
    '/..%2fsecret.txt',
    '/..%5csecret.txt',
    '/..\\secret.txt',
    '//etc/passwd',
    '/....//secret.txt',
    '/%252e%252e%252fsecret.txt',
    '/index.html%00.js',
    '/notes.private',
    '/assets',
    '/assets/',
    '/constructor',
    '/__proto__',
    'http://127.0.0.1/secret.txt',
  ])('has nothing at %s', async (path) => {
    const { server } = await running();
    const { status, body, headers } = await ask(server, path);
    expect(status).toBe(404);
    expect(body).not.toContain('secret');
    expect(headers['content-security-policy']).toMatch(/^default-src 'none'/);
  });

  it("is not there for somebody else's name that points here", async () => {
    const { server } = await running();
    const { port } = server;
    for (const host of [
      'evil.example',
      `evil.example:${port}`,
      '127.0.0.1',
      `127.0.0.1:${port + 1}`,
      `127.0.0.1.evil.example:${port}`,
      `2130706433:${port}`,
    ]) {
      const { status, body } = await ask(server, '/', { headers: { host } });
      expect({ host, status }).toEqual({ host, status: 403 });
      expect(body).toContain(`Open http://127.0.0.1:${port}/ instead`);
    }
    for (const host of [`localhost:${port}`, `LOCALHOST:${port}`, `[::1]:${port}`]) {
      expect((await ask(server, '/', { headers: { host } })).status).toBe(200);
    }
  });
});

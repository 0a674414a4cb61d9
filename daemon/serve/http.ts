import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { foreignHost } from './access.js';
import type { PageFiles } from './page-files.js';

/** What the page may do: run our own scripts and styles and talk to us; nothing else. */
export const CONTENT_SECURITY_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data:",
  "connect-src 'self'",
  "base-uri 'none'",
  "frame-ancestors 'none'",
  "form-action 'none'",
].join('; ');

const HEADERS = {
  'Content-Security-Policy': CONTENT_SECURITY_POLICY,
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Cache-Control': 'no-store',
} as const;

const SLOW_REQUEST_MS = 10_000;
const MOST_CONNECTIONS = 256;

/** Serves the files given, to browsers on this machine that call us by our own name. */
export function createPageServer(files: PageFiles): Server {
  const server = createServer({ requestTimeout: SLOW_REQUEST_MS }, (request, response) => {
    answer(files, request, response);
  });
  server.maxConnections = MOST_CONNECTIONS;
  return server;
}

function answer(files: PageFiles, request: IncomingMessage, response: ServerResponse): void {
  const refusal = foreignHost(request.headers, request.socket.localPort ?? 0);
  if (refusal !== null) return sendText(response, 403, refusal);
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    response.setHeader('Allow', 'GET, HEAD');
    return sendText(response, 405, 'Only GET and HEAD are answered here.');
  }
  const path = request.url?.split('?', 1)[0] ?? '';
  const file = files.get(path);
  if (file === undefined) return sendText(response, 404, 'There is no such page; go to /');
  response.writeHead(200, { ...HEADERS, 'Content-Type': file.type, 'Content-Length': file.body.length });
  response.end(request.method === 'HEAD' ? undefined : file.body);
}

function sendText(response: ServerResponse, status: number, text: string): void {
  response.writeHead(status, { ...HEADERS, 'Content-Type': 'text/plain; charset=utf-8' });
  response.end(`${text}\n`);
}

import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { foreignHost } from './access.js';
import type { DesignDesk } from './design-messages.js';
import { answerDesign, isDesignPath } from './design-requests.js';
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

/**
 * Serves the files given, to browsers on this machine that call us by our own name.
 * @param desk answers about designs; null where there is none
 */
export function createPageServer(files: PageFiles, desk: DesignDesk | null = null): Server {
  const server = createServer({ requestTimeout: SLOW_REQUEST_MS }, (request, response) => {
    answer(files, desk, request, response);
  });
  server.maxConnections = MOST_CONNECTIONS;
  return server;
}

function answer(
  files: PageFiles,
  desk: DesignDesk | null,
  request: IncomingMessage,
  response: ServerResponse,
): void {
  const refusal = foreignHost(request.headers, request.socket.localPort ?? 0);
  if (refusal !== null) return sendText(response, 403, refusal);
  const path = request.url?.split('?', 1)[0] ?? '';
  if (desk !== null && isDesignPath(path)) return void sendDesign(desk, path, request, response);
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    response.setHeader('Allow', 'GET, HEAD');
    return sendText(response, 405, 'Only GET and HEAD are answered here.');
  }
  const file = files.get(path);
  if (file === undefined) return sendText(response, 404, 'There is no such page; go to /');
  response.writeHead(200, { ...HEADERS, 'Content-Type': file.type, 'Content-Length': file.body.length });
  response.end(request.method === 'HEAD' ? undefined : file.body);
}

async function sendDesign(
  desk: DesignDesk,
  path: string,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  const answer = await answerDesign(desk, path, request);
  // What wasn't read of a refused request would be taken for the next one.
  if (!request.complete) response.setHeader('Connection', 'close');
  if (answer.status !== 200) return sendText(response, answer.status, answer.why);
  const body = JSON.stringify(answer.body);
  response.writeHead(200, { ...HEADERS, 'Content-Type': 'application/json; charset=utf-8' });
  response.end(body);
}

function sendText(response: ServerResponse, status: number, text: string): void {
  response.writeHead(status, { ...HEADERS, 'Content-Type': 'text/plain; charset=utf-8' });
  response.end(`${text}\n`);
}

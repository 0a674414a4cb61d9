import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { foreignHost } from './access.js';
import { HEADERS, sendText } from './headers.js';
import { JOB_PATH, type JobSource } from './job-ask.js';
import { JobAnswers } from './job-http.js';
import type { PageFiles } from './page-files.js';

const SLOW_REQUEST_MS = 10_000;
const MOST_CONNECTIONS = 256;

/**
 * Serves the files given, to browsers on this machine that call us by our own name.
 * @param job answers about recordings; null: there are none to ask about
 */
export function createPageServer(files: PageFiles, job: JobSource | null = null): Server {
  const jobAnswers = job === null ? null : new JobAnswers(job);
  const server = createServer({ requestTimeout: SLOW_REQUEST_MS }, (request, response) => {
    answer(files, jobAnswers, request, response);
  });
  server.maxConnections = MOST_CONNECTIONS;
  return server;
}

function answer(
  files: PageFiles,
  jobAnswers: JobAnswers | null,
  request: IncomingMessage,
  response: ServerResponse,
): void {
  const refusal = foreignHost(request.headers, request.socket.localPort ?? 0);
  if (refusal !== null) return sendText(response, 403, refusal);
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    response.setHeader('Allow', 'GET, HEAD');
    return sendText(response, 405, 'Only GET and HEAD are answered here.');
  }
  const path = request.url?.split('?', 1)[0] ?? '';
  if (jobAnswers !== null && path.startsWith(JOB_PATH)) return void jobAnswers.answer(request, response);
  const file = files.get(path);
  if (file === undefined) return sendText(response, 404, 'There is no such page; go to /');
  response.writeHead(200, { ...HEADERS, 'Content-Type': file.type, 'Content-Length': file.body.length });
  response.end(request.method === 'HEAD' ? undefined : file.body);
}

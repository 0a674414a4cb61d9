import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { foreignHost } from './access.js';
import { HEADERS, sendText } from './headers.js';
import { JOB_PATH, type JobSource } from './job-ask.js';
import { JobAnswers } from './job-http.js';
import type { DesignDesk } from './design-messages.js';
import { answerDesign, isDesignPath } from './design-requests.js';
import type { InstrumentDesk } from './instrument-messages.js';
import { answerInstruments, isInstrumentPath } from './instrument-requests.js';
import type { JsonAnswer } from './json-requests.js';
import type { PageFiles } from './page-files.js';

const SLOW_REQUEST_MS = 10_000;
const MOST_CONNECTIONS = 256;

/** What stands behind the page beside its files; what is left out can't be asked for. */
export interface PageSources {
  /** Answers about recordings. */
  readonly job?: JobSource | undefined;
  /** Answers about designs. */
  readonly desk?: DesignDesk | undefined;
  /** Answers about ports and the bench file. */
  readonly instruments?: InstrumentDesk | undefined;
}

/** Serves the files given, to browsers on this machine that call us by our own name. */
export function createPageServer(files: PageFiles, sources: PageSources = {}): Server {
  const { job } = sources;
  const jobAnswers = job === undefined ? null : new JobAnswers(job);
  const server = createServer({ requestTimeout: SLOW_REQUEST_MS }, (request, response) => {
    answer(files, jobAnswers, sources, request, response);
  });
  server.maxConnections = MOST_CONNECTIONS;
  return server;
}

function answer(
  files: PageFiles,
  jobAnswers: JobAnswers | null,
  { desk, instruments }: PageSources,
  request: IncomingMessage,
  response: ServerResponse,
): void {
  const refusal = foreignHost(request.headers, request.socket.localPort ?? 0);
  if (refusal !== null) return sendText(response, 403, refusal);
  const path = request.url?.split('?', 1)[0] ?? '';
  if (desk !== undefined && isDesignPath(path)) {
    return void sendJson(answerDesign(desk, path, request), request, response);
  }
  if (instruments !== undefined && isInstrumentPath(path)) {
    return void sendJson(answerInstruments(instruments, path, request), request, response);
  }
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    response.setHeader('Allow', 'GET, HEAD');
    return sendText(response, 405, 'Only GET and HEAD are answered here.');
  }
  if (jobAnswers !== null && path.startsWith(JOB_PATH)) return void jobAnswers.answer(request, response);
  const file = files.get(path);
  if (file === undefined) return sendText(response, 404, 'There is no such page; go to /');
  response.writeHead(200, { ...HEADERS, 'Content-Type': file.type, 'Content-Length': file.body.length });
  response.end(request.method === 'HEAD' ? undefined : file.body);
}

async function sendJson(
  answered: Promise<JsonAnswer>,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  const answer = await answered;
  // What wasn't read of a refused request would be taken for the next one.
  if (!request.complete) response.setHeader('Connection', 'close');
  if (answer.status !== 200) return sendText(response, answer.status, answer.why);
  const body = JSON.stringify(answer.body);
  response.writeHead(200, { ...HEADERS, 'Content-Type': 'application/json; charset=utf-8' });
  response.end(body);
}

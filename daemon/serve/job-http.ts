import type { IncomingMessage, ServerResponse } from 'node:http';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { foreignAsker } from './access.js';
import { HEADERS, sendText } from './headers.js';
import { BadAsk, readAsk, type JobAsk, type JobSource } from './job-ask.js';

/** Longer than two names of 160 letters, each of them of four bytes in percent signs. */
const LONGEST_ADDRESS = 4096;
/** Of all pages together; more wait for nobody, they are told to come again. */
const MOST_AT_ONCE = 16;

/** A report's own style, and nothing else: no script, no request, no frame. */
function reportPolicy(styleSha256: string): string {
  const styles = styleSha256 === '' ? "'none'" : `'sha256-${styleSha256}'`;
  return (
    `default-src 'none'; style-src ${styles}; img-src data:; ` +
    "base-uri 'none'; frame-ancestors 'none'; form-action 'none'"
  );
}

/** Answers what the page asks about recordings, one at a time or several. */
export class JobAnswers {
  readonly #source: JobSource;
  #atOnce = 0;

  constructor(source: JobSource) {
    this.#source = source;
  }

  /** Answers a GET or HEAD whose path begins with `/job/`; never rejects. */
  async answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const refusal = foreignAsker(request.headers);
    if (refusal !== null) return sendText(response, 403, refusal);
    const ask = askOf(request.url ?? '');
    if ('status' in ask) return sendText(response, ask.status, ask.why);
    if (this.#atOnce >= MOST_AT_ONCE) {
      response.setHeader('Retry-After', '1');
      return sendText(response, 503, 'Too much is being read at once; try again in a moment.');
    }
    this.#atOnce += 1;
    try {
      await this.#send(ask, request.method === 'HEAD', response);
    } finally {
      this.#atOnce -= 1;
    }
  }

  async #send(ask: JobAsk, isHead: boolean, response: ServerResponse): Promise<void> {
    const gone = new AbortController();
    response.on('close', () => gone.abort());
    const answer = await this.#source.answer(ask, gone.signal);
    if (gone.signal.aborted) return;
    if (!answer.ok) return sendText(response, answer.status, answer.why);
    response.writeHead(200, { ...HEADERS, ...ownHeaders(ask, answer.styleSha256) });
    if (isHead) {
      gone.abort();
      response.end();
      return;
    }
    // Broken in the middle: the connection breaks too, so that half a table never looks whole.
    await pipeline(Readable.from(answer.chunks), response).catch(() => response.destroy());
  }
}

interface Refused {
  readonly status: 400 | 404 | 414;
  readonly why: string;
}

function askOf(address: string): JobAsk | Refused {
  if (address.length > LONGEST_ADDRESS) return { status: 414, why: 'That address is too long.' };
  const cut = address.indexOf('?');
  const path = cut === -1 ? address : address.slice(0, cut);
  try {
    const ask = readAsk(path, cut === -1 ? '' : address.slice(cut + 1));
    return ask ?? { status: 404, why: 'There is no such answer about recordings.' };
  } catch (error) {
    if (error instanceof BadAsk) return { status: 400, why: error.message };
    throw error;
  }
}

function ownHeaders(ask: JobAsk, styleSha256 = ''): Readonly<Record<string, string>> {
  switch (ask.kind) {
    case 'report':
      return {
        'Content-Type': 'text/html; charset=utf-8',
        'Content-Security-Policy': reportPolicy(styleSha256),
      };
    case 'csv': {
      const name = `${ask.recording.replace(/\.ndjson(\.gz)?$/, '')}-${ask.form}.csv`;
      // RFC 4180 names the type, RFC 6266 the two ways to give a name.
      return {
        'Content-Type': 'text/csv; charset=utf-8; header=present',
        'Content-Disposition': `attachment; filename="${name.replace(/[^\x20-\x7e]/g, '_')}"; filename*=UTF-8''${starred(name)}`,
      };
    }
    case 'list':
    case 'outcome':
    case 'overview':
    case 'state':
    case 'compare':
      return { 'Content-Type': 'application/json' };
  }
}

/** RFC 8187, 3.2.1: these signs stand for themselves in a browser's own encoding, and not here. */
function starred(name: string): string {
  return encodeURIComponent(name).replace(/[()*'!]/g, (sign) => `%${sign.charCodeAt(0).toString(16)}`);
}

import type { IncomingMessage } from 'node:http';
import type { z } from 'zod';
import { foreignOrigin, type Door } from './access.js';
import { ONLY_LOOKS, type Role } from './keys.js';

/** A file that is posted is at most 1 MiB; quotes and line ends take two characters in JSON. */
const MOST_BYTES = 2.5 * 1024 * 1024;

/** Levels of groups and lists; what our page sends has half as many. */
const DEEPEST = 20;

/** What is sent back: JSON when it was done, a sentence otherwise. */
export type JsonAnswer =
  | { readonly status: 200; readonly body: object }
  | { readonly status: 400 | 403 | 404 | 405 | 413 | 415 | 503; readonly why: string };

/** What a path does; null when the body isn't what it asks for. */
export type Action<Desk> = (desk: Desk, body: unknown) => Promise<object> | null;

/** The paths of one part of the page. */
export interface Paths<Desk> {
  /** The one path that is got. */
  readonly open: string;
  readonly posts: Readonly<Record<string, Action<Desk>>>;
  /** Those that change something, so that who only looks is refused. */
  readonly changing: readonly string[];
}

/** Where a request goes, and who sent it. */
export interface JsonAsk {
  readonly path: string;
  readonly role: Role;
  readonly door: Door;
}

export function action<Desk, T>(
  schema: z.ZodType<T>,
  run: (desk: Desk, request: T) => Promise<object>,
): Action<Desk> {
  return (desk, body) => {
    const checked = schema.safeParse(body);
    return checked.success ? run(desk, checked.data) : null;
  };
}

/** Answers our own page; Host and key have been checked. Nothing in the request is trusted. */
export async function answerJson<Desk extends { open(): Promise<object> }>(
  { open, posts, changing }: Paths<Desk>,
  desk: Desk,
  { path, role, door }: JsonAsk,
  request: IncomingMessage,
): Promise<JsonAnswer> {
  const foreign = foreignOrigin(request.headers, door);
  if (foreign !== null) return { status: 403, why: foreign };
  if (role === 'look' && changing.includes(path)) return { status: 403, why: ONLY_LOOKS };
  const method = path === open ? 'GET' : 'POST';
  if (request.method !== method) return { status: 405, why: `Only ${method} is answered at ${path}.` };
  try {
    if (path === open) return { status: 200, body: await desk.open() };
    return await posted(posts[path], desk, request);
  } catch (error) {
    return { status: 503, why: error instanceof Error ? error.message : String(error) };
  }
}

async function posted<Desk>(
  act: Action<Desk> | undefined,
  desk: Desk,
  request: IncomingMessage,
): Promise<JsonAnswer> {
  // A form of another page can't send this type without being asked first (Fetch standard, CORS-safelisted types).
  if (!/^application\/json\b/.test(request.headers['content-type'] ?? '')) {
    return { status: 415, why: 'Send application/json.' };
  }
  const body = await bodyOf(request);
  if (body === null) return { status: 413, why: 'The file is larger than 1 MiB; a few kilobytes are usual.' };
  const answer = act?.(desk, parsed(body)) ?? null;
  if (answer === null)
    return { status: 400, why: 'The request is not what this page sends; load the page again.' };
  return { status: 200, body: await answer };
}

/** Null when it is too large; the rest isn't read. */
async function bodyOf(request: IncomingMessage): Promise<string | null> {
  const chunks: Buffer[] = [];
  let bytes = 0;
  for await (const chunk of request as AsyncIterable<Buffer>) {
    bytes += chunk.length;
    if (bytes > MOST_BYTES) return null;
    chunks.push(chunk);
  }
  return Buffer.concat(chunks).toString('utf8');
}

function parsed(text: string): unknown {
  try {
    const body: unknown = JSON.parse(text);
    return isWithin(body, DEEPEST) ? body : undefined;
  } catch {
    return undefined;
  }
}

/** The schemas look as deep as a body goes, and the stack ends before a body must. */
function isWithin(value: unknown, levels: number): boolean {
  if (typeof value !== 'object' || value === null) return true;
  return levels > 0 && Object.values(value).every((inner) => isWithin(inner, levels - 1));
}

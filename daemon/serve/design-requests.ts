import type { IncomingMessage } from 'node:http';
import { z } from 'zod';
import { foreignOrigin, type Door } from './access.js';
import type { DesignDesk, EditValue } from './design-messages.js';
import { ONLY_LOOKS, type Role } from './keys.js';

/** A design file is at most 1 MiB; quotes and line ends take two characters in JSON. */
const MOST_BYTES = 2.5 * 1024 * 1024;
const MOST_TEXT = 1024 * 1024;

const text = z.string().max(MOST_TEXT);
const typed = z.string().max(200);
const key = z.string().min(1).max(120);
const value: z.ZodType<EditValue> = z.lazy(() =>
  z.union([z.string().max(4_000), z.number(), z.array(value).max(100), z.record(key, value)]),
);
const edit = z.strictObject({ path: z.array(key).min(1).max(12), value: value.nullable() });
const rail = { name: typed, volts: typed, full: typed };
const load = z.enum(['idle', 'typical', 'full']);

const previewSchema = z.strictObject({
  text,
  edits: z.array(edit).max(50),
  load,
  draws: z.enum(['quick', 'full']),
});
const beginSchema = z.strictObject({
  name: typed,
  mains: typed,
  volts: typed,
  va: typed,
  capacity_uF: typed,
  rails: z.array(z.strictObject(rail)).max(6),
});
const railSchema = z.strictObject({ text, ...rail });
const saveSchema = z.strictObject({
  text,
  file: z.string().max(200),
  version: z.string().max(100).nullable(),
});

/** What is sent back: JSON when it was done, a sentence otherwise. */
export type DesignAnswer =
  | { readonly status: 200; readonly body: object }
  | { readonly status: 400 | 403 | 404 | 405 | 413 | 415 | 503; readonly why: string };

type Action = (desk: DesignDesk, body: unknown) => Promise<object> | null;

function action<T>(schema: z.ZodType<T>, run: (desk: DesignDesk, request: T) => Promise<object>): Action {
  return (desk, body) => {
    const checked = schema.safeParse(body);
    return checked.success ? run(desk, checked.data) : null;
  };
}

const SAVE_PATH = '/design/save';

const POSTS: Readonly<Record<string, Action>> = {
  '/design/preview': action(previewSchema, (desk, request) => desk.preview(request)),
  '/design/begin': action(beginSchema, (desk, request) => desk.begin(request)),
  '/design/rail': action(railSchema, (desk, request) => desk.rail(request)),
  [SAVE_PATH]: action(saveSchema, (desk, request) => desk.save(request)),
};

/** Whether a path is about designs. */
export function isDesignPath(path: string): boolean {
  return path === '/design/open' || Object.hasOwn(POSTS, path);
}

/** Where a request about designs goes and who sent it. */
export interface DesignAsk {
  readonly path: string;
  readonly role: Role;
  readonly door: Door;
}

/** Answers our own page about designs; Host and key have been checked. Nothing in the request is trusted. */
export async function answerDesign(
  desk: DesignDesk,
  { path, role, door }: DesignAsk,
  request: IncomingMessage,
): Promise<DesignAnswer> {
  const foreign = foreignOrigin(request.headers, door);
  if (foreign !== null) return { status: 403, why: foreign };
  if (path === SAVE_PATH && role === 'look') return { status: 403, why: ONLY_LOOKS };
  const method = path === '/design/open' ? 'GET' : 'POST';
  if (request.method !== method) return { status: 405, why: `Only ${method} is answered at ${path}.` };
  try {
    return path === '/design/open'
      ? { status: 200, body: await desk.open() }
      : await posted(desk, path, request);
  } catch (error) {
    return { status: 503, why: error instanceof Error ? error.message : String(error) };
  }
}

async function posted(desk: DesignDesk, path: string, request: IncomingMessage): Promise<DesignAnswer> {
  // A form of another page can't send this type without being asked first (Fetch standard, CORS-safelisted types).
  if (!/^application\/json\b/.test(request.headers['content-type'] ?? '')) {
    return { status: 415, why: 'Send application/json.' };
  }
  const body = await bodyOf(request);
  if (body === null)
    return { status: 413, why: 'The design is larger than 1 MiB; a few kilobytes are usual.' };
  const answer = POSTS[path]?.(desk, parsed(body)) ?? null;
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
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

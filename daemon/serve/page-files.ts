import { readdirSync, readFileSync } from 'node:fs';
import { extname, join, sep } from 'node:path';

/** A file of the page, in memory. */
export interface PageFile {
  readonly type: string;
  readonly body: Buffer;
}

/** By the path that a browser asks for, `/assets/app.js`. */
export type PageFiles = ReadonlyMap<string, PageFile>;

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
  '.json': 'application/json',
  '.webmanifest': 'application/manifest+json',
};

/** The page isn't there, or can't be read. */
export class NoPage extends Error {
  override readonly name = 'NoPage';
}

/**
 * Reads the page's files once. Only these are ever served: no path of a request reaches the disk.
 * @throws {NoPage} when there is no page in the folder, or it can't be read.
 */
export function readPageFiles(folder: string): PageFiles {
  const files = new Map<string, PageFile>();
  for (const name of namesIn(folder)) {
    const type = TYPES[extname(name)];
    if (type === undefined) continue;
    files.set(`/${name.split(sep).join('/')}`, { type, body: read(join(folder, name)) });
  }
  const index = files.get('/index.html');
  if (index === undefined) {
    throw new NoPage(`${join(folder, 'index.html')}: the page is not there; run "npm run build" to make it`);
  }
  return files.set('/', index);
}

function read(file: string): Buffer {
  try {
    return readFileSync(file);
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : 'unknown';
    throw new NoPage(
      `${file}: it can't be read (${code}); give yourself the right, or run "npm run build" to make it anew`,
      { cause: error },
    );
  }
}

/** A folder that can't be read has no page in it; a link is no file of ours. */
function namesIn(folder: string): readonly string[] {
  try {
    return readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name).slice(join(folder, sep).length));
  } catch {
    return [];
  }
}

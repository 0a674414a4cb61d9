import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildPage, type BuiltPage } from './built-page.js';

/** What the first view fetches from a cold start; the other views are fetched when they are first shown. */
const MOST_FIRST_BYTES = 80 * 1024;
const MOST_BYTES = 128 * 1024;

let built: BuiltPage;
beforeAll(async () => {
  built = await buildPage();
});
afterAll(() => built.remove());

describe('the built page', () => {
  it('has at most 80 KiB of gzipped scripts and styles for its first view, and 128 KiB for all of them', async () => {
    const folder = join(built.folder, 'assets');
    const files = (await readdir(folder)).filter((file) => /\.(js|css)$/.test(file));
    const text = new Map(
      await Promise.all(
        files.map(async (file) => [file, await readFile(join(folder, file), 'utf8')] as const),
      ),
    );
    const sizeOf = (of: readonly string[]): number =>
      of.reduce((sum, file) => sum + gzipSync(text.get(file) ?? '').length, 0);
    expect(files.some((file) => file.startsWith('bench-'))).toBe(true);
    expect(sizeOf(fetchedFirst(text))).toBeLessThanOrEqual(MOST_FIRST_BYTES);
    expect(sizeOf(files)).toBeLessThanOrEqual(MOST_BYTES);
  });

  it('has nothing inline that the content security policy would refuse, and asks no other host', async () => {
    const page = await readFile(join(built.folder, 'index.html'), 'utf8');
    expect(page).not.toMatch(/<script(?![^>]*\ssrc=)|<style|\sstyle=|\son\w+=/);
    expect(page).not.toMatch(/(?:src|href)="(?:https?:)?\/\//);
  });
});

/** The page's own scripts and styles, the first view's, and what those import at once. */
function fetchedFirst(text: ReadonlyMap<string, string>): string[] {
  const wanted = [...text.keys()].filter((file) => /^(index|bench|dark)-/.test(file));
  for (const file of wanted) {
    const imports = [...(text.get(file) ?? '').matchAll(/from"\.\/([^"]+)"/g)].map(([, name]) => name ?? '');
    wanted.push(...imports.filter((name) => !wanted.includes(name)));
  }
  return wanted;
}

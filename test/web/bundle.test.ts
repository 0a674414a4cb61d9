import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildPage, type BuiltPage } from './built-page.js';

const MOST_SCRIPT_BYTES = 80 * 1024;

let built: BuiltPage;
beforeAll(async () => {
  built = await buildPage();
});
afterAll(() => built.remove());

describe('the built page', () => {
  it('has at most 80 KiB of gzipped scripts', async () => {
    const files = (await readdir(join(built.folder, 'assets'))).filter((file) => file.endsWith('.js'));
    const sizes = await Promise.all(
      files.map(async (file) => gzipSync(await readFile(join(built.folder, 'assets', file))).length),
    );
    expect(sizes.reduce((sum, size) => sum + size, 0)).toBeLessThanOrEqual(MOST_SCRIPT_BYTES);
    expect(sizes.length).toBeGreaterThan(0);
  });

  it('has nothing inline that the content security policy would refuse, and asks no other host', async () => {
    const page = await readFile(join(built.folder, 'index.html'), 'utf8');
    expect(page).not.toMatch(/<script(?![^>]*\ssrc=)|<style|\sstyle=|\son\w+=/);
    expect(page).not.toMatch(/(?:src|href)="(?:https?:)?\/\//);
  });
});

import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { beforeAll, describe, expect, it } from 'vitest';
import { buildPage } from './built-page.js';

/** All that the page needs: the page comes in one piece, so that no view has to be fetched later. */
const MOST_BYTES = 80_000;

let built: string;
beforeAll(async () => {
  built = await buildPage();
});

describe('the built page', () => {
  it('has at most 80 kB of scripts and styles, gzipped', async () => {
    const folder = join(built, 'assets');
    const files = (await readdir(folder)).filter((file) => /\.(js|css)$/.test(file));
    const sizes = await Promise.all(
      files.map(async (file) => gzipSync(await readFile(join(folder, file))).length),
    );
    expect(files.some((file) => file.endsWith('.js'))).toBe(true);
    expect(sizes.reduce((sum, size) => sum + size, 0)).toBeLessThanOrEqual(MOST_BYTES);
  });

  it('has nothing inline that the content security policy would refuse, and asks no other host', async () => {
    const page = await readFile(join(built, 'index.html'), 'utf8');
    expect(page).not.toMatch(/<script(?![^>]*\ssrc=)|<style|\sstyle=|\son\w+=/);
    expect(page).not.toMatch(/(?:src|href)="(?:https?:)?\/\//);
  });
});

import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';

const SIZES = [
  { width: 360, height: 740 },
  { width: 1280, height: 800 },
  { width: 2560, height: 1440 },
] as const;
const SCHEMES = ['light', 'dark'] as const;

/** Which page to picture, and where the pictures go. */
export interface PictureRequest {
  readonly browser: Browser;
  readonly address: string;
  readonly folder: string;
  /** First part of every file name. */
  readonly name: string;
  readonly sizes?: readonly { readonly width: number; readonly height: number }[];
  readonly schemes?: readonly ('light' | 'dark')[];
  /** Brings the page to what is to be pictured. */
  readonly prepare: (page: Page) => Promise<unknown>;
}

/** Takes a picture of the whole page at every size in light and dark; gives the files' paths. */
export async function takePictures(request: PictureRequest): Promise<readonly string[]> {
  await mkdir(request.folder, { recursive: true });
  const files: string[] = [];
  for (const viewport of request.sizes ?? SIZES) {
    const page = await request.browser.newPage({ viewport });
    await page.goto(request.address);
    await request.prepare(page);
    for (const colorScheme of request.schemes ?? SCHEMES) {
      await page.emulateMedia({ colorScheme });
      await page.evaluate(() => window.scrollTo(0, 0));
      await chartsDrawn(page);
      const path = join(request.folder, `${request.name}-${viewport.width}-${colorScheme}.png`);
      await page.screenshot({ path, fullPage: true });
      files.push(path);
    }
    await page.close();
  }
  return files;
}

/** Charts are drawn one frame after their words. */
export async function chartsDrawn(page: Page): Promise<void> {
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
}

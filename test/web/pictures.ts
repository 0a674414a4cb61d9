import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';

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
  /** The words that must stand on the page before the picture is taken. */
  readonly awaited: string | RegExp;
}

/** Takes a picture of the whole page at every size in light and dark; gives the files' paths. */
export async function takePictures(request: PictureRequest): Promise<readonly string[]> {
  await mkdir(request.folder, { recursive: true });
  const files: string[] = [];
  for (const viewport of request.sizes ?? SIZES) {
    for (const colorScheme of request.schemes ?? SCHEMES) {
      const page = await request.browser.newPage({ viewport, colorScheme });
      await page.goto(request.address);
      await page.getByText(request.awaited).first().waitFor();
      // Charts are drawn one frame after their words.
      await page.evaluate(
        () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))),
      );
      const path = join(request.folder, `${request.name}-${viewport.width}-${colorScheme}.png`);
      await page.screenshot({ path, fullPage: true });
      await page.close();
      files.push(path);
    }
  }
  return files;
}

import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser } from 'playwright-core';
import { takePictures } from './pictures.js';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

/** The README's picture: the demo of the built program, once its regulator is over its limit. Gives the file's path. */
export async function takeDemoPicture(browser: Browser): Promise<readonly string[]> {
  const demo = spawn(process.execPath, [join(ROOT, 'dist/daemon/main.js'), 'demo', '--port', '0']);
  try {
    return await takePictures({
      browser,
      address: await addressOf(demo.stdout),
      folder: join(ROOT, 'web/pictures'),
      name: 'demo',
      sizes: [{ width: 1280, height: 800 }],
      schemes: ['light'],
      prepare: async (page) => {
        await page.getByRole('button', { name: 'Got it' }).click();
        await page
          .locator('rm-alarms .sentence', { hasText: ', over its limit of' })
          .waitFor({ timeout: 120_000 });
      },
    });
  } finally {
    const closed = once(demo, 'close');
    demo.kill('SIGINT');
    await closed;
  }
}

function addressOf(output: NodeJS.ReadableStream): Promise<string> {
  return new Promise((resolve, reject) => {
    let said = '';
    output.on('data', (chunk) => {
      said += String(chunk);
      const found = /http:\S+/.exec(said);
      if (found !== null) resolve(found[0]);
    });
    output.on('end', () => reject(new Error(`the demo ended by itself: ${said}`)));
  });
}

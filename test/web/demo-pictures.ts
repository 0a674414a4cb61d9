import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { startChromium } from './chromium.js';
import { takePictures } from './pictures.js';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
/** Stands on the page once the demo's regulator is over its limit. */
const AWAITED = /over its limit/;

/**
 * Pictures of the demo with its alarm up: one for the README, and every size in light and dark in the system's
 * temporary folder, to be looked at. Needs the built program. Gives the files' paths.
 */
export async function takeDemoPictures(): Promise<readonly string[]> {
  const demo = spawn(process.execPath, [join(ROOT, 'dist/daemon/main.js'), 'demo', '--port', '0']);
  const browser = await startChromium();
  try {
    const address = await addressOf(demo.stdout);
    const one = { browser, address, awaited: AWAITED };
    const readme = await takePictures({
      ...one,
      folder: join(ROOT, 'web/pictures'),
      name: 'demo',
      sizes: [{ width: 1280, height: 800 }],
      schemes: ['light'],
    });
    return [
      ...readme,
      ...(await takePictures({ ...one, folder: join(tmpdir(), 'railminder-pictures'), name: 'demo' })),
    ];
  } finally {
    await browser.close();
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

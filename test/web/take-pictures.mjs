// Takes the README's picture from the running demo, and pictures of every view, to be looked at; a word after
// "npm run pictures --" takes those alone whose name begins so.
import { fileURLToPath } from 'node:url';
import { runnerImport } from 'vite';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const only = process.argv[2] ?? '';

async function load(file) {
  const path = fileURLToPath(new URL(file, import.meta.url));
  const { module } = await runnerImport(path, { logLevel: 'error' });
  return module;
}

const { startChromium } = await load('chromium.ts');
const { takeDemoPicture } = await load('demo-picture.ts');
const { takeViewPictures } = await load('view-pictures.ts');
const browser = await startChromium();
try {
  if ('demo'.startsWith(only)) for (const file of await takeDemoPicture(browser)) console.log(file);
  for (const file of await takeViewPictures(browser, `${ROOT}.cache/pictures`, only)) console.log(file);
} finally {
  await browser.close();
}

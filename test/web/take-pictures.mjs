// Takes the README's picture from the running demo, and pictures of the page at every size beside it.
import { fileURLToPath } from 'node:url';
import { runnerImport } from 'vite';

const file = fileURLToPath(new URL('demo-pictures.ts', import.meta.url));
const { module } = await runnerImport(file, { logLevel: 'error' });
for (const picture of await module.takeDemoPictures()) console.log(picture);

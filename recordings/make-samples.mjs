// Makes the sample recordings anew: node recordings/make-samples.mjs [NAME ...]
import { fileURLToPath } from 'node:url';
import { runnerImport } from 'vite';

const script = fileURLToPath(new URL('../test/daemon/record/samples.ts', import.meta.url));
const { module } = await runnerImport(script, { logLevel: 'error' });
await module.makeSamples(fileURLToPath(new URL('.', import.meta.url)), process.argv.slice(2));

// Writes recording.schema.json anew from what the reader checks: node recordings/make-schema.mjs
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { runnerImport } from 'vite';

const script = fileURLToPath(new URL('../daemon/record/write-schema.ts', import.meta.url));
const { module } = await runnerImport(script, { logLevel: 'error' });
writeFileSync(new URL('recording.schema.json', import.meta.url), module.recordingSchemaText());

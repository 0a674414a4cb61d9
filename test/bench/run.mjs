// Runs every benchmark file here and prints its rows: ratios to a reference measured in the same run.
import { cpus } from 'node:os';
import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { join } from 'node:path';
import { runnerImport } from 'vite';

const folder = fileURLToPath(new URL('.', import.meta.url));
const only = process.argv.slice(2);
console.log(
  `${new Date().toISOString().slice(0, 10)}  Node ${process.version}  ${cpus().length} x ${cpus()[0]?.model}`,
);
for (const file of readdirSync(folder)
  .filter((name) => name.endsWith('.ts'))
  .sort()) {
  const subject = file.slice(0, -3);
  if (only.length > 0 && !only.includes(subject)) continue;
  const { module } = await runnerImport(join(folder, file), { logLevel: 'error' });
  if (typeof module.rows !== 'function') continue;
  console.log(`\n${subject}`);
  console.table(await module.rows());
}

// Compiles every benchmark file here, runs it and prints its rows: ratios to a reference measured in the same run.
// Compiled, as people run the program: a test runner's module wrappers alone make the hot loops half as fast.
import { spawnSync } from 'node:child_process';
import { copyFileSync, readdirSync, rmSync } from 'node:fs';
import { cpus } from 'node:os';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { join } from 'node:path';

const root = fileURLToPath(new URL('../..', import.meta.url));
const compiled = join(root, '.cache', 'bench');
process.chdir(root);
rmSync(compiled, { recursive: true, force: true });
const compiler = join(root, 'node_modules', 'typescript', 'bin', 'tsc');
const { status } = spawnSync(process.execPath, [compiler, '-p', 'test/bench'], { stdio: 'inherit' });
if (status !== 0) process.exit(1);
// The program reads its version there.
copyFileSync(join(root, 'package.json'), join(compiled, 'package.json'));

const only = process.argv.slice(2);
console.log(
  `${new Date().toISOString().slice(0, 10)}  Node ${process.version}  ${cpus().length} x ${cpus()[0]?.model}`,
);
const folder = join(compiled, 'test', 'bench');
for (const file of readdirSync(folder)
  .filter((name) => name.endsWith('.js'))
  .sort()) {
  const subject = file.slice(0, -3);
  if (only.length > 0 && !only.includes(subject)) continue;
  const module = await import(pathToFileURL(join(folder, file)).href);
  if (typeof module.rows !== 'function') continue;
  console.log(`\n${subject}`);
  console.table(await module.rows());
}

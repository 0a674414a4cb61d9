// Watches a simulated table for 72 hours of session time, run fast, with faults all the way; exit status 1 when
// something isn't as it must be: run.mjs [--hours N] [--seed N]. Wants node --expose-gc.
import { spawnSync } from 'node:child_process';
import { copyFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';

const root = fileURLToPath(new URL('../..', import.meta.url));
const compiled = join(root, '.cache', 'soak');
process.chdir(root);
rmSync(compiled, { recursive: true, force: true });
const compiler = join(root, 'node_modules', 'typescript', 'bin', 'tsc');
const { status } = spawnSync(process.execPath, [compiler, '-p', 'test/soak'], { stdio: 'inherit' });
if (status !== 0) process.exit(1);
// The program reads its version there.
copyFileSync(join(root, 'package.json'), join(compiled, 'package.json'));

const { values } = parseArgs({
  options: { hours: { type: 'string', default: '72' }, seed: { type: 'string', default: '1' } },
});
const { runSoak } = await import(pathToFileURL(join(compiled, 'test', 'soak', 'main.js')).href);
process.exitCode = (await runSoak(Number(values.hours), Number(values.seed))) ? 0 : 1;

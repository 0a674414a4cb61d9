// How often alarms ask for their person, healthy and after every fault: run.mjs [--hours N] [--sessions N] [--seed N]
// Exit code 1 when a measure isn't met. Compiled, as people run the program, and on as many processes as there are cores.
import { fork, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { copyFileSync, rmSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';

const root = fileURLToPath(new URL('../..', import.meta.url));
const compiled = join(root, '.cache', 'alarm-rates');
const shareFile = join(compiled, 'test', 'alarm-rates', 'share.js');
process.chdir(root);

if (process.send !== undefined) {
  const { runShare } = await import(pathToFileURL(shareFile).href);
  runShare(JSON.parse(process.argv[2]));
  process.disconnect();
} else process.exitCode = await measure();

async function measure() {
  const { values } = parseArgs({
    options: {
      hours: { type: 'string', default: '200' },
      sessions: { type: 'string', default: '200' },
      seed: { type: 'string', default: '0' },
    },
  });
  rmSync(compiled, { recursive: true, force: true });
  const compiler = join(root, 'node_modules', 'typescript', 'bin', 'tsc');
  if (spawnSync(process.execPath, [compiler, '-p', 'test/alarm-rates'], { stdio: 'inherit' }).status !== 0)
    return 1;
  copyFileSync(join(root, 'package.json'), join(compiled, 'package.json'));
  const { measuresOf } = await import(pathToFileURL(shareFile).href);
  const [hours, sessions] = [[], []];
  const of = availableParallelism();
  const numbers = Object.fromEntries(Object.entries(values).map(([key, value]) => [key, Number(value)]));
  const ends = Array.from({ length: of }, (_, share) => {
    const child = fork(fileURLToPath(import.meta.url), [JSON.stringify({ ...numbers, share, of })]);
    child.on('message', ({ hour, session, line }) => {
      if (hour !== undefined) hours.push(hour);
      if (session !== undefined) sessions.push(session);
      if (hour?.asked.length > 0)
        console.log(`${hour.seed} ${hour.design}, ${hour.equipment}: ${hour.asked.join(', ')}`);
      if (session !== undefined && !session.namesCause) console.log(line);
    });
    return once(child, 'exit');
  });
  const codes = (await Promise.all(ends)).map(([code]) => code);
  const table = measuresOf(hours, sessions);
  console.table(table);
  return codes.every((code) => code === 0) && table.every(({ met }) => met) ? 0 : 1;
}

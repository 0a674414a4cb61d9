import { readFileSync } from 'node:fs';
import { readPieces } from '../../../../daemon/record/reader.js';
import { replay } from '../../../../daemon/record/replay.js';

/** Times JSON.parse of the lines, reading and replaying of the recording given, in turns. Prints rounds of ms as JSON. */
const [file = '', rounds = '1'] = process.argv.slice(2);

async function milliseconds(work: () => unknown): Promise<number> {
  const startedMs = performance.now();
  await work();
  return performance.now() - startedMs;
}

async function readAll(): Promise<void> {
  let count = 0;
  for await (const { items } of readPieces(file)) {
    for (const item of items) if (item.kind === 'events') count += item.events.length;
  }
  if (count === 0) throw new Error('no reading was read');
}

const found: { parseMs: number; readMs: number; replayMs: number }[] = [];
for (let round = 0; round < Number(rounds); round += 1) {
  const lines = readFileSync(file, 'utf8').trimEnd().split('\n');
  found.push({
    parseMs: await milliseconds(() => lines.forEach((line) => void JSON.parse(line))),
    readMs: await milliseconds(readAll),
    replayMs: await milliseconds(() => replay(file, { speed: 'fast' })),
  });
}
console.log(JSON.stringify(found));

// As a page does, through the thread given: opens a recording, looks closer, seeks all over it. Prints peak memory, kB.
import { existsSync, readFileSync } from 'node:fs';

const [thread = '', folder = '', recording = ''] = process.argv.slice(2);
const { JobThread } = await import(thread);
const job = new JobThread({ folder, software: 'bench', running: () => null });

async function body(ask) {
  const answer = await job.answer(ask, new AbortController().signal);
  if (!answer.ok) throw new Error(answer.why);
  let text = '';
  for await (const chunk of answer.chunks) text += chunk;
  return JSON.parse(text);
}

const opening = { kind: 'overview', recording, fromMs: 0, toMs: null, most: 1024 };
const { lengthMs } = await body(opening);
for (let part = 0; part < 8; part += 1) {
  const fromMs = (lengthMs * part) / 8;
  await body({ ...opening, fromMs, toMs: fromMs + 600_000 });
}
// The golden ratio's multiples lie all over the session.
for (let round = 0; round < 40; round += 1) {
  await body({ kind: 'state', recording, atMs: Math.round(((round * 0.618034) % 1) * lengthMs) });
}
await job.close();

/** Linux's own count, where there is one: `maxRSS` begins with what the process that started this one had. */
const status = existsSync('/proc/self/status') ? readFileSync('/proc/self/status', 'utf8') : '';
console.log(/VmHWM:\s+(\d+)/.exec(status)?.[1] ?? process.resourceUsage().maxRSS);

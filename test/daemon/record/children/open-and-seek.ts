import { existsSync, readFileSync } from 'node:fs';
import { openOverview } from '../../../../daemon/record/index/overview.js';
import { openStates } from '../../../../daemon/record/index/saved-states.js';
import { openPlayer } from '../../../../daemon/record/player.js';

/** As a page does: opens the recording given, draws its channels, seeks all over it. Prints its own peak memory, kB. */
const [file = '', software = ''] = process.argv.slice(2);
const overview = await openOverview(file, software);
const lengthMs = overview.lengthMs;
for (const series of overview.series) {
  await overview.curve(series, { fromMs: 0, toMs: lengthMs, most: 600 });
}
for (const [i, series] of overview.series.entries()) {
  const fromMs = (lengthMs * i) / overview.series.length;
  await overview.curve(series, { fromMs, toMs: fromMs + 60_000, most: 600 });
}
const player = await openPlayer(file);
player.takeCheckpoints((await openStates(file, player.header, software)).checkpoints);
// The golden ratio's multiples lie all over the session.
for (let round = 0; round < 40; round += 1) await player.seek(((round * 0.618034) % 1) * lengthMs);
await player.close();

/** Linux's own count, where there is one: `maxRSS` begins with what the process that started this one had. */
const status = existsSync('/proc/self/status') ? readFileSync('/proc/self/status', 'utf8') : '';
console.log(/VmHWM:\s+(\d+)/.exec(status)?.[1] ?? process.resourceUsage().maxRSS);

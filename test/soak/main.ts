import { readFile } from 'node:fs/promises';
import { threadedBands } from '../../daemon/band-source.js';
import { loadDesign } from '../../daemon/design/load.js';
import { startSuspectThread } from '../../daemon/suspects/suspect-thread.js';
import { checksOf } from './checks.js';
import { hourMedian } from './memory.js';
import { soak, type SoakResult } from './soak.js';

const DESIGN = 'daemon/design/examples/signal-cabin/signal-cabin.design.yaml';
const MEAN_GAP_MS = 5 * 60_000;

/** Prints what a soak shows. @returns whether all of it is as it must be */
export async function runSoak(hours: number, seed: number): Promise<boolean> {
  const designText = await readFile(DESIGN, 'utf8');
  const design = loadDesign(designText, DESIGN);
  const result = await soak({
    designText,
    hours,
    seed,
    meanGapMs: MEAN_GAP_MS,
    bandSource: threadedBands({ design, seed: 0 }),
    startSuspects: startSuspectThread,
    onHour: ({ atMs, heap, outside, resident }, clock) =>
      console.log(
        `${String(Math.round(atMs / 3_600_000)).padStart(3)} h  heap ${heap.toFixed(1)} MB, outside ${outside.toFixed(1)} MB, resident ${resident.toFixed(0)} MB, ${clock.waiting} timers`,
      ),
  });
  return print(result, hours);
}

function print(result: SoakResult, hours: number): boolean {
  const { live, pages, faults, memory, wallSeconds } = result;
  console.log(`\n${hours} h of session in ${(wallSeconds / 60).toFixed(1)} min`);
  console.log(
    `kept: ${live.readings} readings, ${live.captures} captures, ${live.events} events, ${live.raised} alarms`,
  );
  console.table(live.faults);
  console.log(`pages: ${JSON.stringify(pages)}`);
  console.log(`from an alarm to the page, session time: ${result.alarmToPage.words()}`);
  console.log(`timers at each hour: ${Math.min(...result.timers)} to ${Math.max(...result.timers)}`);
  console.table(
    Object.fromEntries(
      [...faults].map(([kind, { done, missed }]) => [kind, { done, missed: missed.length }]),
    ),
  );
  const [tenth, last] = [hourMedian(memory, 10), hourMedian(memory, Math.floor(hours))];
  console.table({ 'hour 10': tenth, [`hour ${Math.floor(hours)}`]: last });
  const checks = checksOf(result);
  for (const { name, isMet, detail } of checks)
    console.log(`${isMet ? 'met    ' : 'NOT MET'} ${name}: ${detail}`);
  return checks.every(({ isMet }) => isMet);
}

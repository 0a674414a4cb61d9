import { onTestFinished } from 'vitest';
import type { Effect } from '../../../daemon/watch/effects.js';
import type { WatchEvent } from '../../../daemon/watch/events.js';
import { beginWatch, watch } from '../../../daemon/watch/watch.js';
import { opened } from './open.js';
import { caseTemperature, PLAN, PROBES_ON, volts } from './signal-cabin.js';

/** What a live session recorded and what it gave. */
export interface LiveSession {
  readonly file: string;
  readonly events: readonly WatchEvent[];
  readonly effects: readonly Effect[];
}

/**
 * Two minutes in the cabin: the logic rail jumps over its limit and back, its case gets too hot, the meter is
 * pulled out and put back, and a person acknowledges what has been raised so far.
 */
export function eventfulEvents(): WatchEvent[] {
  const events: WatchEvent[] = [...PROBES_ON];
  for (let atMs = 250; atMs <= 120_000; atMs += 250) {
    events.push({ kind: 'tick', atMs });
    const unplugged = atMs > 60_000 && atMs < 80_000;
    if (atMs % 500 === 0 && !unplugged) events.push(volts(atMs, atMs > 20_000 && atMs < 25_000 ? 5.9 : 5.01));
    if (atMs % 1000 === 0) events.push(caseTemperature(atMs, 40 + atMs / 1500));
    if (atMs === 60_250)
      events.push({ kind: 'instrument', atMs, instrument: 'meter', state: 'lost', why: 'unplugged' });
    if (atMs === 80_000)
      events.push({ kind: 'instrument', atMs, instrument: 'meter', state: 'reading', why: 'back' });
    if (atMs === 90_000) {
      events.push({ kind: 'acknowledge', atMs, alarm: 'over-limit:logic.volts' });
      events.push({ kind: 'note', atMs, text: 'meter was unplugged: my sleeve' });
    }
  }
  return events;
}

/** Runs events through the core while recording them, as the daemon does. */
export async function liveSession(
  folder: string,
  events: readonly WatchEvent[],
  close = true,
): Promise<LiveSession> {
  const { recording } = await opened(folder);
  let state = beginWatch(PLAN);
  const effects: Effect[] = [];
  for (const event of events) {
    recording.append(event);
    const next = watch(state, event);
    state = next.state;
    for (const effect of next.effects) recording.appendEffect(effect);
    effects.push(...next.effects);
  }
  if (close) await recording.close(120_000);
  else {
    await recording.flush();
    onTestFinished(async () => void (await recording.close(0)));
  }
  return { file: recording.file ?? '', events, effects };
}

import { readFile, writeFile } from 'node:fs/promises';
import { gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openPlayer } from '../../../daemon/record/player.js';
import { beginWatch, watch, type WatchState } from '../../../daemon/watch/watch.js';
import { manualClock } from '../../manual-clock.js';
import { eventfulEvents, liveSession, type LiveSession } from './live-session.js';
import { PLAN, volts } from './signal-cabin.js';
import { temporaryFolder } from './temporary-folder.js';

/** The state after every event up to a moment, played one by one. */
function stateAt(live: LiveSession, atMs: number): WatchState {
  return live.events
    .filter((event) => event.atMs <= atMs)
    .reduce((state, event) => watch(state, event).state, beginWatch(PLAN));
}

/** Long enough that the file is read in several pieces. */
function longEvents() {
  return [
    ...eventfulEvents(),
    ...Array.from({ length: 12_000 }, (_, i) => volts(120_000 + i * 20, i % 3000 < 100 ? 5.9 : 5)),
  ];
}

describe('a player', () => {
  it.each(['plain', 'compressed'])(
    'a seek equals playing up to there, forward and back, in a %s file (fast-check, seed 77)',
    async (kind) => {
      const live = await liveSession(await temporaryFolder(), longEvents());
      const file = kind === 'plain' ? live.file : `${live.file}.gz`;
      if (kind === 'compressed') await writeFile(file, gzipSync(await readFile(live.file)));
      const player = await openPlayer(file);
      const property = fc.asyncProperty(fc.nat({ max: 380_000 }), async (atMs) => {
        expect(await player.seek(atMs)).toEqual(stateAt(live, atMs));
      });
      await fc.assert(property, { seed: 77, numRuns: 25 });
      await player.close();
    },
    120_000,
  );

  it('pauses between two events and goes on with the same effects, to the byte', async () => {
    const live = await liveSession(await temporaryFolder(), eventfulEvents());
    const player = await openPlayer(live.file);
    const effects: string[] = [];
    let pause = new AbortController();
    let count = 0;
    const play = () =>
      player.play({
        speed: Infinity,
        signal: pause.signal,
        listener: (_event, _state, found) => {
          effects.push(...found.map((one) => JSON.stringify(one)));
          if ((count += 1) % 100 === 0) pause.abort();
        },
      });
    while ((await play()) === 'paused') pause = new AbortController();
    expect(effects).toEqual(live.effects.map((one) => JSON.stringify(one)));
    await player.close();
  });

  it('at 4 gives each event at a quarter of its time, from wherever it is', async () => {
    const live = await liveSession(await temporaryFolder(), [volts(0, 5), volts(4_000, 5), volts(8_000, 5)]);
    const clock = manualClock();
    const player = await openPlayer(live.file, clock);
    await player.seek(4_000);
    const seen: number[] = [];
    const signal = new AbortController().signal;
    const played = player.play({ speed: 4, signal, listener: (event) => seen.push(event.atMs) });
    await new Promise((resolve) => setImmediate(resolve));
    clock.advance(999);
    expect(seen).toEqual([]);
    clock.advance(1);
    expect(await played).toBe('end');
    expect(seen).toEqual([8_000]);
    await player.close();
  });
});

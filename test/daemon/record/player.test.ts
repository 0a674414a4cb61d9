import { appendFile, readFile, stat, utimes, writeFile } from 'node:fs/promises';
import { gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openStates } from '../../../daemon/record/index/saved-states.js';
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

describe('states kept beside a recording', () => {
  async function played(file: string): Promise<boolean> {
    const player = await openPlayer(file);
    const states = await openStates(file, player.header, 'test 1');
    await player.seek(Infinity);
    expect(player.checkpoints.length).toBeGreaterThan(0);
    await player.close();
    return states.save(player.checkpoints);
  }

  it('let another player seek as if it had played up to there (fast-check, seed 78)', async () => {
    const live = await liveSession(await temporaryFolder(), longEvents());
    expect(await played(live.file)).toBe(true);
    const property = fc.asyncProperty(fc.nat({ max: 380_000 }), async (atMs) => {
      const player = await openPlayer(live.file);
      player.takeCheckpoints((await openStates(live.file, player.header, 'test 1')).checkpoints);
      expect(await player.seek(atMs)).toEqual(stateAt(live, atMs));
      await player.close();
    });
    await fc.assert(property, { seed: 78, numRuns: 15 });
  });

  it('count for nothing when another program kept them or the recording is another', async () => {
    const { file } = await liveSession(await temporaryFolder(), longEvents());
    await played(file);
    const { header } = await openPlayer(file);
    expect((await openStates(file, header, 'test 1')).checkpoints.length).toBeGreaterThan(0);
    expect((await openStates(file, header, 'test 2')).checkpoints).toEqual([]);
    const { atime, mtime } = await stat(file);
    await writeFile(file, (await readFile(file, 'utf8')).replace(',5]', ',6]'));
    await utimes(file, atime, mtime);
    expect((await openStates(file, header, 'test 1')).checkpoints).toEqual([]);
  });

  it('are not kept when the recording changed while it was played', async () => {
    const { file } = await liveSession(await temporaryFolder(), longEvents());
    const player = await openPlayer(file);
    const states = await openStates(file, player.header, 'test 1');
    await player.seek(Infinity);
    await player.close();
    await appendFile(file, '\n');
    expect(await states.save(player.checkpoints)).toBe(false);
  });
});

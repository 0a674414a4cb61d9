import { readFile, writeFile } from 'node:fs/promises';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Mismatch } from '../../../daemon/record/effect-check.js';
import { replay } from '../../../daemon/record/replay.js';
import type { WatchEvent } from '../../../daemon/watch/events.js';
import { manualClock } from '../../manual-clock.js';
import { anyEvent } from './arbitrary-event.js';
import { eventfulEvents, liveSession } from './live-session.js';
import { caseTemperature, volts } from './signal-cabin.js';
import { temporaryFolder } from './temporary-folder.js';

const session = fc
  .array(
    fc.oneof(
      anyEvent,
      fc.double({ min: -5, max: 200, noNaN: true }).map((value) => caseTemperature(0, value)),
    ),
    {
      maxLength: 200,
    },
  )
  .chain((events) =>
    fc.tuple(fc.constant(events), fc.array(fc.nat({ max: 2_000 }), { minLength: 200, maxLength: 200 })),
  )
  .map(([events, steps]): WatchEvent[] => {
    let atMs = 0;
    return events.map((event, i) => ({ ...event, atMs: (atMs += steps[i] ?? 0) }));
  });

describe('a replay', () => {
  it('gives the live effects to the byte, and the recorded ones agree', async () => {
    const live = await liveSession(await temporaryFolder(), eventfulEvents());
    const effects: string[] = [];
    const result = await replay(live.file, {
      speed: 'fast',
      onEffect: (effect) => effects.push(JSON.stringify(effect)),
    });
    expect(effects).toEqual(live.effects.map((effect) => JSON.stringify(effect)));
    const raised = live.effects.flatMap((one) =>
      one.kind === 'alarm' && one.change === 'raised' ? [one.alarm.id] : [],
    );
    expect(raised).toEqual(expect.arrayContaining(['over-limit:logic.volts', 'over-limit:logic.case']));
    expect(result).toEqual({
      events: live.events.length,
      problems: 0,
      mismatches: 0,
      closed: true,
      lastAtMs: 120_000,
    });
  });

  it('does so for any events at all (fast-check, seed 812)', async () => {
    const folder = await temporaryFolder();
    const property = fc.asyncProperty(session, async (events) => {
      const live = await liveSession(folder, events);
      const effects: string[] = [];
      const seen: WatchEvent[] = [];
      const { mismatches } = await replay(live.file, {
        speed: 'fast',
        onEvent: (event) => seen.push(event),
        onEffect: (effect) => effects.push(JSON.stringify(effect)),
      });
      expect(seen).toEqual(events);
      expect(effects).toEqual(live.effects.map((effect) => JSON.stringify(effect)));
      expect(mismatches).toBe(0);
    });
    await fc.assert(property, { seed: 812, numRuns: 40 });
  });

  it('tells where a changed recording no longer gives the recorded alarms', async () => {
    const live = await liveSession(await temporaryFolder(), eventfulEvents());
    const text = await readFile(live.file, 'utf8');
    const changed = text.replace(',0,0,5.9]\n', ',0,0,5.0]\n');
    expect(changed).not.toBe(text);
    await writeFile(live.file, changed);
    const found: Mismatch[] = [];
    const result = await replay(live.file, { speed: 'fast', onMismatch: (mismatch) => found.push(mismatch) });
    expect(result.mismatches).toBeGreaterThan(0);
    expect(found[0]?.atMs).toBe(20_500);
    expect(found[0]?.now).toEqual([]);
    expect(found[0]?.recorded.join()).toContain('over-limit:logic.volts');
  });

  it('of a session that stopped suddenly in the middle of its alarms finds nothing wrong with them', async () => {
    const live = await liveSession(await temporaryFolder(), eventfulEvents(), false);
    const text = await readFile(live.file, 'utf8');
    await writeFile(live.file, text.slice(0, text.indexOf(',0,0,5.9]\n') + 50));
    const problems: string[] = [];
    const result = await replay(live.file, {
      speed: 'fast',
      onProblem: ({ problem }) => problems.push(problem),
    });
    expect(problems).toEqual(['torn', 'not-closed']);
    expect(result).toMatchObject({ mismatches: 0, closed: false, lastAtMs: 20_500 });
  });

  it('counts damaged lines, names them, and goes on', async () => {
    const note = { kind: 'note', atMs: 2, text: 'warm' } as const;
    const live = await liveSession(await temporaryFolder(), [volts(1, 5), note, volts(3, 5)]);
    const text = await readFile(live.file, 'utf8');
    await writeFile(live.file, text.replace('"warm"}', '"warm"'));
    const whys: string[] = [];
    const result = await replay(live.file, { speed: 'fast', onProblem: ({ why }) => whys.push(why) });
    expect(result).toMatchObject({ events: 2, problems: 2 });
    expect(whys).toEqual([
      expect.stringMatching(/\.ndjson:4: found "\{"kind":"note".*"; it is not JSON, skipped\./),
      expect.stringMatching(/the file was changed after it was closed/),
    ]);
  });
});

describe('the speed of a replay', () => {
  it('at 4 gives each event at a quarter of its time', async () => {
    const live = await liveSession(await temporaryFolder(), [volts(0, 5), volts(4_000, 5), volts(8_000, 5)]);
    const clock = manualClock();
    const seen: number[] = [];
    const done = replay(live.file, { speed: 4, wall: clock, onEvent: ({ atMs }) => seen.push(atMs) });
    await expect.poll(() => seen).toEqual([0]);
    clock.advance(999);
    expect(seen).toEqual([0]);
    clock.advance(1);
    await expect.poll(() => seen).toEqual([0, 4_000]);
    clock.advance(1_000);
    expect((await done).events).toBe(3);
  });

  it('can be ended while it waits', async () => {
    const live = await liveSession(await temporaryFolder(), [volts(0, 5), volts(3_600_000, 5)]);
    const abort = new AbortController();
    const done = replay(live.file, { speed: 1, onEvent: () => abort.abort(), signal: abort.signal });
    expect((await done).events).toBe(1);
  });
});

import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { onTestFinished } from 'vitest';
import { loadBench, loadDesign } from '../../daemon/design/load.js';
import { createSession, type Session, type SessionSetup } from '../../daemon/session.js';
import type { WatchEvent } from '../../daemon/watch/events.js';
import { manualClock, type ManualClock } from '../manual-clock.js';

const DESIGN = fileURLToPath(
  new URL('../../daemon/design/examples/signal-cabin/signal-cabin.design.yaml', import.meta.url),
);

export interface CabinSession {
  readonly session: Session;
  readonly clock: ManualClock;
  /** Everything that happened, oldest first. */
  readonly events: readonly WatchEvent[];
  /** Lets time pass in small pieces, with room for what a driver awaits in between. */
  readonly pass: (ms: number) => Promise<void>;
}

/** A session of the signal cabin with a bench of the test's own, its clock still, its recording in a folder that goes. */
export async function cabinSession(
  benchText: string,
  surroundings: (clock: ManualClock) => Pick<SessionSetup, 'linkFor'> & Partial<SessionSetup>,
): Promise<CabinSession> {
  const text = await readFile(DESIGN, 'utf8');
  const design = loadDesign(text, DESIGN);
  const folder = await mkdtemp(join(tmpdir(), 'railminder-session-'));
  const clock = manualClock();
  const file = 'cabin.bench.yaml';
  const session = await createSession({
    design: { file: DESIGN, text, value: design },
    bench: { file, text: benchText, value: loadBench(benchText, file, design) },
    load: 'full',
    clock,
    startedAt: new Date('2026-11-25T18:40:00Z'),
    recordings: folder,
    ...surroundings(clock),
  });
  onTestFinished(async () => {
    await session.close();
    await rm(folder, { recursive: true, force: true });
  });
  const events: WatchEvent[] = [];
  session.onStep((event) => void events.push(event));
  return {
    session,
    clock,
    events,
    pass: async (ms) => {
      for (let passed = 0; passed < ms; passed += 50) {
        clock.advance(50);
        await new Promise((resolve) => setImmediate(resolve));
      }
    },
  };
}

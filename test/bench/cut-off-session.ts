import { readFile } from 'node:fs/promises';
import { loadBench, loadDesign } from '../../daemon/design/load.js';
import { linkFor } from '../../daemon/links.js';
import { createHub } from '../../daemon/serve/hub.js';
import { startServer, type RunningServer } from '../../daemon/serve/server.js';
import { supplyView } from '../../daemon/serve/supply-view.js';
import { createSession, type Session } from '../../daemon/session.js';
import { systemClock } from '../../drivers/system-clock.js';
import type { PtyPair } from '../drivers/pty.js';

const DESIGN = 'daemon/design/examples/signal-cabin/signal-cabin.design.yaml';
/** So that the boards speak and the pages have been told before the reading comes. */
const SETTLES_MS = 300;
/** A round that takes longer than this hangs, however busy the machine is. */
const LONGEST_WAIT_MS = 30_000;

/** From the reading to OPEN. */
export interface Delay {
  readonly ms: number;
  /** What this process computed meanwhile; the rest of the time it waited, on a busy machine for its turn. */
  readonly cpuMs: number;
}

export interface Round {
  readonly folder: string;
  readonly pageFolder: string;
  readonly benchText: string;
  readonly rails: PtyPair;
  /** Sends the reading and waits for OPEN. */
  readonly measure: () => Promise<Delay>;
  /** Opens pages of this address; left out: nobody looks. */
  readonly openPages?: (address: string) => void;
}

/** A session of its own for every round: an alarm that stands drops nothing twice. */
export async function oneRound(round: Round): Promise<Delay> {
  const { rails, measure, openPages } = round;
  const session = await sessionOn(round);
  const server = await pageOf(session, round.pageFolder);
  session.start();
  openPages?.(server.address);
  await until(session, 'every instrument to open', ({ state }) =>
    state.instruments.every(({ state: one }) => one === 'open' || one === 'reading'),
  );
  const speaking = setInterval(() => void rails.write('LOGIC 5.02 V\r\n'), 100);
  await until(session, 'the first reading', ({ state }) =>
    state.points.some(({ id, value }) => id === 'logic.volts' && value === 5.02),
  );
  await ordered(session, 'on', ({ state }) => state.cutOffs[0]?.position === 'on');
  await ordered(session, 'arm', ({ state }) => state.cutOffs[0]?.state === 'armed');
  await new Promise((resolve) => setTimeout(resolve, SETTLES_MS));
  clearInterval(speaking);
  const delay = await measure();
  await until(
    session,
    'the board to say that it opened',
    ({ state }) => state.cutOffs[0]?.position === 'off',
  );
  await server.close();
  await session.close();
  return delay;
}

async function sessionOn({ folder, benchText }: Round): Promise<Session> {
  const text = await readFile(DESIGN, 'utf8');
  const design = loadDesign(text, DESIGN);
  const clock = systemClock();
  const file = 'cut-off.bench.yaml';
  return createSession({
    design: { file: DESIGN, text, value: design },
    bench: { file, text: benchText, value: loadBench(benchText, file, design) },
    load: 'full',
    clock,
    startedAt: new Date(),
    recordings: folder,
    linkFor: ({ spec }) => linkFor(spec.link, clock),
  });
}

async function pageOf(session: Session, pageFolder: string): Promise<RunningServer> {
  const design = loadDesign(await readFile(DESIGN, 'utf8'), DESIGN);
  const hub = createHub({
    state: session.state,
    supply: supplyView({ design, advice: [], faults: [] }),
    session: {
      design: 'cut-off',
      bench: 'table',
      load: 'full',
      startedAt: new Date().toISOString(),
      speed: 1,
    },
    instruments: [],
    recorderFile: () => session.file,
    demo: () => null,
    onCommand: () => null,
  });
  session.onStep((event, state, effects) => hub.publish(event, state, effects));
  return startServer({ port: 0, pageFolder, hub });
}

/** Asked for again where a busy machine didn't answer in time. */
async function ordered(
  session: Session,
  order: 'on' | 'arm',
  isSo: (session: Session) => boolean,
): Promise<void> {
  const ask = (): void => void session.act({ kind: 'cut-off', output: 'mains-relay', order, inSight: true });
  ask();
  const again = setInterval(ask, 3000);
  await until(session, `the cut-off to be ${order === 'on' ? 'on' : 'armed'}`, isSo);
  clearInterval(again);
}

/** Rejects with what didn't come, and what the session says of its instruments. */
function until(session: Session, what: string, isSo: (session: Session) => boolean): Promise<void> {
  if (isSo(session)) return Promise.resolve();
  return new Promise((resolve, reject) => {
    const deadline = setTimeout(() => {
      const { instruments, cutOffs } = session.state;
      const states = instruments.map(({ name, state, why }) => `${name} ${state} ${why}`).join('; ');
      reject(new Error(`waited for ${what} in vain: ${states}; ${JSON.stringify(cutOffs)}`));
    }, LONGEST_WAIT_MS);
    session.onStep(() => {
      if (!isSo(session)) return;
      clearTimeout(deadline);
      resolve();
    });
  });
}

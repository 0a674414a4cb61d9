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

export interface Round {
  readonly folder: string;
  readonly pageFolder: string;
  readonly benchText: string;
  readonly rails: PtyPair;
  /** Sends the reading and waits for OPEN; ms. */
  readonly measure: () => Promise<number>;
  /** Opens pages of this address; left out: nobody looks. */
  readonly openPages?: (address: string) => void;
}

/** A session of its own for every round: an alarm that stands drops nothing twice. */
export async function oneRound(round: Round): Promise<number> {
  const { rails, measure, openPages } = round;
  const session = await sessionOn(round);
  const server = await pageOf(session, round.pageFolder);
  session.start();
  openPages?.(server.address);
  await until(session, ({ state }) =>
    state.instruments.every(({ state: one }) => one === 'open' || one === 'reading'),
  );
  const speaking = setInterval(() => void rails.write('LOGIC 5.02 V\r\n'), 100);
  await until(session, ({ state }) =>
    state.points.some(({ id, value }) => id === 'logic.volts' && value === 5.02),
  );
  session.act({ kind: 'cut-off', output: 'mains-relay', order: 'on', inSight: true });
  await until(session, ({ state }) => state.cutOffs[0]?.position === 'on');
  session.act({ kind: 'cut-off', output: 'mains-relay', order: 'arm', inSight: true });
  await new Promise((resolve) => setTimeout(resolve, 1000));
  clearInterval(speaking);
  const ms = await measure();
  await until(session, ({ state }) => state.cutOffs[0]?.position === 'off');
  await server.close();
  await session.close();
  return ms;
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

function until(session: Session, isSo: (session: Session) => boolean): Promise<void> {
  if (isSo(session)) return Promise.resolve();
  return new Promise((resolve) => session.onStep(() => isSo(session) && resolve()));
}

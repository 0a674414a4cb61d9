import { fileURLToPath } from 'node:url';
import { JobThread } from './job/job-thread.js';
import { createDesignDesk } from './desk/design-desk.js';
import { createInstrumentDesk } from './desk/instrument-desk.js';
import { DeskThread } from './desk/desk-thread.js';
import { knownFaults } from './predict/fault-clouds.js';
import { createHub, type Hub } from './serve/hub.js';
import type { DemoView } from './serve/messages.js';
import { startServer, type RunningServer } from './serve/server.js';
import { supplyView } from './serve/supply-view.js';
import { linkWords } from './links.js';
import { ownNames } from './own-addresses.js';
import type { PageAddress } from './page-options.js';
import type { Wall } from './time/wall.js';
import { typedChannelsOf } from './typed-instruments.js';
import type { HeldLink } from './held-ports.js';
import { listPorts } from '../drivers/ports.js';
import type { Session, SessionSetup } from './session.js';
import { PACKAGE_FOLDER, VERSION } from './version.js';

/** The demo's own controls, on the page and nowhere else. */
export interface DemoControl {
  view(): DemoView;
  switchFault(name: string): void;
}

export interface PageSetup {
  readonly setup: SessionSetup;
  readonly page: PageAddress;
  readonly speed: number;
  readonly demo: DemoControl | null;
}

/**
 * Serves the page of a session. Call before the session starts.
 * @throws {NoPage} when the page isn't built; {CannotListen} when the port can't be used.
 */
export async function servePage(
  session: Session,
  { setup, page, speed, demo }: PageSetup,
): Promise<RunningServer> {
  const hub = sessionHub(session, { setup, speed, demo });
  const thread = new DeskThread();
  // The demo's design and bench are the package's own.
  const copiesTo = demo === null ? null : process.cwd();
  const desk = createDesignDesk({
    design: setup.design,
    load: setup.load,
    copiesTo,
    preview: thread.preview,
  });
  const instruments = createInstrumentDesk({
    design: setup.design,
    bench: setup.bench,
    outsideDrivers: setup.outsideDrivers ?? new Map(),
    taps: session.taps,
    held: demo === null ? heldLinks(session) : [],
    copiesTo,
    changeBench: thread.changeBench,
    listPorts,
  });
  const job = jobThread(session, setup.recordings);
  const pageFolder = fileURLToPath(new URL('dist/web/', PACKAGE_FOLDER));
  const server = await startServer({
    port: page.port,
    host: page.host,
    door: {
      scheme: page.certificate === null ? 'http' : 'https',
      names: page.keys === null ? [] : ownNames(),
      keys: page.keys,
    },
    certificate: page.certificate ?? undefined,
    holder: {
      program: 'railminder',
      design: setup.design.value.design,
      process: process.pid,
      startedAt: setup.startedAt.toISOString(),
    },
    pageFolder,
    hub,
    desk,
    instruments,
    job,
  });
  return {
    ...server,
    async close() {
      await Promise.all([thread.close(), instruments.close(), job.close()]);
      await server.close();
    },
  };
}

/** Tells the pages what happens in a session, and carries out what they ask for. Call before the session starts. */
export function sessionHub(
  session: Session,
  { setup, speed, demo }: Omit<PageSetup, 'page'>,
  wall?: Wall,
): Hub {
  const design = setup.design.value;
  const hub = createHub({
    state: session.state,
    supply: supplyView({ design, advice: session.plan.prediction.advice, faults: knownFaults(design) }),
    session: {
      design: design.design,
      bench: setup.bench.value.bench,
      load: setup.load,
      startedAt: setup.startedAt.toISOString(),
      speed,
    },
    instruments: [
      ...session.instruments.map((instrument) => ({
        name: instrument.name,
        driver: instrument.spec.driver,
        typed: typedChannelsOf(instrument, Object.keys(session.plan.prediction.points)),
        link: demo === null ? linkWords(instrument.spec.link) : 'simulated',
      })),
      ...session.outputs.map(({ name, spec }) => ({ name, driver: spec.driver, link: linkWords(spec.link) })),
    ],
    recorderFile: () => session.file,
    demo: () => demo?.view() ?? null,
    onHealth: (why) => session.tellService('page', why),
    onCommand(command) {
      if (command.kind !== 'demo-fault') return session.act(command);
      if (demo === null) return 'faults can be switched in the demo only';
      demo.switchFault(command.fault);
      return null;
    },
    ...(wall !== undefined && { wall }),
  });
  session.onStep((event, state, effects) => hub.publish(event, state, effects), 'page');
  return hub;
}

/** What isn't armed isn't opened by the session, but may drive something all the same. */
function heldLinks({ instruments, outputs }: Session): readonly HeldLink[] {
  return [...instruments, ...outputs].flatMap(({ name, spec }) =>
    spec.link === undefined ? [] : [{ name, link: spec.link }],
  );
}

function jobThread(session: Session, folder: string): JobThread {
  // A long session goes on in other files; it is listed by its first.
  let firstFile: string | null = null;
  const running = (): string | null => (firstFile ??= session.file);
  running();
  session.onStep(running, 'recordings');
  return new JobThread({
    folder,
    software: `railminder ${VERSION}`,
    running,
    onHealth: (why) => session.tellService('recordings', why),
  });
}

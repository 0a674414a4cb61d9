import type { Server } from 'node:http';
import type { DesignDesk } from './design-messages.js';
import type { InstrumentDesk } from './instrument-messages.js';
import { createPageServer } from './http.js';
import type { Hub } from './hub.js';
import type { JobSource } from './job-ask.js';
import { serveLive } from './live.js';
import { readPageFiles } from './page-files.js';
import { listen, LOOPBACK } from './port.js';
import { backgroundWall, type Wall } from '../time/wall.js';

/** How long pages have for a polite goodbye. */
const GOODBYE_MS = 200;

export interface ServerOptions {
  /** Null: the first free one from the usual port on. 0: any free one. */
  readonly port: number | null;
  /** The built page, `dist/web`. */
  readonly pageFolder: string;
  readonly hub: Hub;
  /** Answers about recordings; left out, there are none to ask about. */
  readonly job?: JobSource;
  /** Answers the page about designs; left out where there are none to be had. */
  readonly desk?: DesignDesk;
  /** Answers the page about ports and the bench file; left out where there are none to be had. */
  readonly instruments?: InstrumentDesk;
  readonly wall?: Wall;
}

export interface RunningServer {
  /** What a person opens: `http://127.0.0.1:8610/`. */
  readonly address: string;
  readonly port: number;
  /** Says goodbye to the pages and frees the port. Safe to call twice. */
  close(): Promise<void>;
}

/**
 * Serves the page and its live data on the loopback address.
 * @throws {NoPage} when the page isn't built; {CannotListen} when the port can't be used.
 */
export async function startServer({
  port,
  pageFolder,
  hub,
  job,
  desk,
  instruments,
  wall = backgroundWall,
}: ServerOptions): Promise<RunningServer> {
  const server = createPageServer(readPageFiles(pageFolder), { job, desk, instruments });
  const used = await listen(server, port);
  const cutOff = serveLive(server, hub, wall);
  let closing: Promise<void> | null = null;
  return {
    address: `http://${LOOPBACK}:${used}/`,
    port: used,
    close: () => (closing ??= closeServer(server, hub, cutOff)),
  };
}

async function closeServer(server: Server, hub: Hub, cutOff: () => void): Promise<void> {
  hub.close();
  const closed = new Promise<void>((resolve) => server.close(() => resolve()));
  const timer = setTimeout(() => {
    cutOff();
    server.closeAllConnections();
  }, GOODBYE_MS);
  server.closeIdleConnections();
  await closed;
  clearTimeout(timer);
  cutOff();
}

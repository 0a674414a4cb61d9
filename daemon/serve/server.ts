import type { Server } from 'node:http';
import { inAddress, LOOPBACK_DOOR, type Door } from './access.js';
import type { DesignDesk } from './design-messages.js';
import { ENTER_PATH } from './enter.js';
import type { Holder } from './holder.js';
import { createPageServer, type Certificate } from './http.js';
import type { InstrumentDesk } from './instrument-messages.js';
import type { Hub } from './hub.js';
import type { JobSource } from './job-ask.js';
import { serveLive } from './live.js';
import { readPageFiles } from './page-files.js';
import { listen, LOOPBACK } from './port.js';
import type { Role } from './keys.js';
import { backgroundWall, type Wall } from '../time/wall.js';

/** How long pages have for a polite goodbye. */
const GOODBYE_MS = 200;

export interface ServerOptions {
  /** Null: the first free one from the usual port on. 0: any free one. */
  readonly port: number | null;
  /** The address to listen on; the loopback one when left out. */
  readonly host?: string | undefined;
  readonly door?: Door;
  readonly certificate?: Certificate | undefined;
  readonly holder?: Holder;
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
  /** What a person opens who comes from this address of the machine, with the key of a role where keys are asked for. */
  link(role: Role, host?: string): string;
  /** Says goodbye to the pages and frees the port. Safe to call twice. */
  close(): Promise<void>;
}

/**
 * Serves the page and its live data.
 * @throws {NoPage} when the page isn't built; {CannotListen} when the port can't be used.
 */
export async function startServer({
  port,
  host = LOOPBACK,
  door = LOOPBACK_DOOR,
  certificate,
  holder,
  pageFolder,
  hub,
  job,
  desk,
  instruments,
  wall = backgroundWall,
}: ServerOptions): Promise<RunningServer> {
  const server = createPageServer(readPageFiles(pageFolder), {
    job,
    desk,
    instruments,
    door,
    certificate,
    holder,
    wall,
  });
  const used = await listen(server, port, host);
  const cutOff = serveLive(server, hub, { wall, door });
  let closing: Promise<void> | null = null;
  const addressAt = (at: string): string => `${door.scheme}://${inAddress(at)}:${used}`;
  return {
    address: `${addressAt(host)}/`,
    port: used,
    link: (role, at = host) =>
      `${addressAt(at)}${door.keys === null ? '/' : ENTER_PATH + door.keys.keyOf(role)}`,
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

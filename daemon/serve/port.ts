import type { Server } from 'node:net';
import { inAddress } from './access.js';
import { holderOf, type Holder } from './holder.js';

/** Tried first when the user named no port, then the ones after it. */
export const USUAL_PORT = 8610;
const PORTS_TRIED = 20;
export const LOOPBACK = '127.0.0.1';

/** The server can't listen. */
export class CannotListen extends Error {
  override readonly name = 'CannotListen';
}

/**
 * Starts listening.
 * @param port null: the first free one from `USUAL_PORT` on. 0: any free one.
 * @param host an address of this machine
 * @returns the port.
 * @throws {CannotListen} saying why and what to do.
 */
export async function listen(server: Server, port: number | null, host: string = LOOPBACK): Promise<number> {
  if (port !== null) {
    const code = await tryListening(server, port, host);
    if (code !== null) throw new CannotListen(await whyNotListening(port, host, code));
    return portOf(server);
  }
  for (let candidate = USUAL_PORT; candidate < USUAL_PORT + PORTS_TRIED; candidate += 1) {
    const code = await tryListening(server, candidate, host);
    if (code === null) return portOf(server);
    if (code !== 'EADDRINUSE') throw new CannotListen(await whyNotListening(candidate, host, code));
  }
  const last = USUAL_PORT + PORTS_TRIED - 1;
  throw new CannotListen(
    `ports ${USUAL_PORT} to ${last} on ${host} are all in use; stop a session that you no longer need, or name another port with --port`,
  );
}

/** Resolves with null, or with the system's word for why not. */
function tryListening(server: Server, port: number, host: string): Promise<string | null> {
  return new Promise((resolve) => {
    const failed = (error: NodeJS.ErrnoException): void => resolve(error.code ?? error.message);
    server.once('error', failed);
    server.listen({ port, host, exclusive: true }, () => {
      server.off('error', failed);
      resolve(null);
    });
  });
}

async function whyNotListening(port: number, host: string, code: string): Promise<string> {
  const place = `port ${port} on ${host}`;
  if (code === 'EADDRINUSE') {
    const holder = await holderOf(host, port);
    return `${place} is in use by ${holderWords(holder)}; stop that one, or name another port with --port`;
  }
  if (code === 'EADDRNOTAVAIL' || code === 'ENOTFOUND') {
    return `${inAddress(host)} is no address of this machine; name one of its own with --address, or leave it out`;
  }
  if (code === 'EACCES') return `${place} is not allowed to you; name one from 1024 to 65535 with --port`;
  return `${place} can't be used (${code}); name another port with --port`;
}

function holderWords(holder: Holder | null): string {
  if (holder === null) return 'another program, perhaps another session';
  const { design, process, startedAt } = holder;
  return `a session that watches "${design}" since ${startedAt} (process ${process})`;
}

function portOf(server: Server): number {
  const address = server.address();
  return typeof address === 'object' && address !== null ? address.port : 0;
}

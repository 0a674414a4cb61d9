import type { Server } from 'node:http';

/** Tried first when the user named no port, then the ones after it. */
export const USUAL_PORT = 8610;
const PORTS_TRIED = 20;
export const LOOPBACK = '127.0.0.1';

/** The server can't listen. */
export class CannotListen extends Error {
  override readonly name = 'CannotListen';
}

/**
 * Starts listening on the loopback address.
 * @param port null: the first free one from `USUAL_PORT` on. 0: any free one.
 * @returns the port.
 * @throws {CannotListen} saying why and what to do.
 */
export async function listen(server: Server, port: number | null): Promise<number> {
  if (port !== null) {
    const code = await tryListening(server, port);
    if (code !== null) throw new CannotListen(whyNotListening(port, code));
    return portOf(server);
  }
  for (let candidate = USUAL_PORT; candidate < USUAL_PORT + PORTS_TRIED; candidate += 1) {
    if ((await tryListening(server, candidate)) === null) return portOf(server);
  }
  const last = USUAL_PORT + PORTS_TRIED - 1;
  throw new CannotListen(
    `ports ${USUAL_PORT} to ${last} on ${LOOPBACK} are all in use; stop a session that you no longer need, or name another port with --port`,
  );
}

/** Resolves with null, or with the system's word for why not. */
function tryListening(server: Server, port: number): Promise<string | null> {
  return new Promise((resolve) => {
    const failed = (error: NodeJS.ErrnoException): void => resolve(error.code ?? error.message);
    server.once('error', failed);
    server.listen({ port, host: LOOPBACK, exclusive: true }, () => {
      server.off('error', failed);
      resolve(null);
    });
  });
}

function whyNotListening(port: number, code: string): string {
  const place = `port ${port} on ${LOOPBACK}`;
  if (code === 'EADDRINUSE') {
    return `${place} is in use by another program, perhaps another session; stop that one, or name another port with --port`;
  }
  if (code === 'EACCES') return `${place} is not allowed to you; name one from 1024 to 65535 with --port`;
  return `${place} can't be used (${code}); name another port with --port`;
}

function portOf(server: Server): number {
  const address = server.address();
  return typeof address === 'object' && address !== null ? address.port : 0;
}

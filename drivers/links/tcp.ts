import { connect, type Socket } from 'node:net';
import type { Clock } from '../clock.js';
import type { Link } from '../link.js';
import { systemClock } from '../system-clock.js';
import { reopeningLink, type Connection, type ConnectionListener } from './reopening.js';

export interface TcpLinkOptions {
  readonly host: string;
  readonly port: number;
  /** Paces the retries. */
  readonly clock?: Clock;
}

const CONNECT_TIMEOUT_MS = 3000;
/** Silence after which the system asks the far end whether it is still there. */
const KEEP_ALIVE_AFTER_MS = 2000;

/** A raw TCP socket, as many instruments offer beside their other interfaces. */
export function tcpLink({ host, port, clock = systemClock() }: TcpLinkOptions): Link {
  const name = `${host}:${port}`;
  return reopeningLink(
    { name, connect: (listener, signal) => openSocket({ host, port, name }, listener, signal) },
    clock,
  );
}

interface Target {
  readonly host: string;
  readonly port: number;
  readonly name: string;
}

async function openSocket(
  target: Target,
  listener: ConnectionListener,
  signal: AbortSignal,
): Promise<Connection> {
  const socket = connect({ host: target.host, port: target.port });
  socket.setNoDelay(true);
  socket.setKeepAlive(true, KEEP_ALIVE_AFTER_MS);
  await untilConnected(socket, target, signal);
  socket.on('data', (chunk) => listener.onBytes(chunk));
  socket.on('error', (problem) => listener.onLost(`${target.name} broke off (${problem.message})`));
  socket.on('close', () => listener.onLost(`${target.name} closed the connection`));
  return { path: target.name, write: (bytes) => writeNow(socket, bytes), close: () => closeSocket(socket) };
}

/** Listens to the signal by itself: Node's own option keeps a listener for each try, for as long as the signal lives. */
function untilConnected(socket: Socket, target: Target, signal: AbortSignal): Promise<void> {
  return new Promise((resolve, reject) => {
    const stop = (): void => void socket.destroy(new Error('stopped'));
    signal.addEventListener('abort', stop);
    if (signal.aborted) stop();
    socket.setTimeout(CONNECT_TIMEOUT_MS, () => {
      socket.destroy(Object.assign(new Error('no answer'), { code: 'ETIMEDOUT' }));
    });
    socket.once('error', (problem) => {
      signal.removeEventListener('abort', stop);
      reject(tcpTroubleInWords(target, problem));
    });
    socket.once('connect', () => {
      signal.removeEventListener('abort', stop);
      socket.setTimeout(0);
      resolve();
    });
  });
}

/** An error with the same cause in plain words. */
export function tcpTroubleInWords({ name, host }: Target, cause: NodeJS.ErrnoException): Error {
  const words = {
    ECONNREFUSED: `nothing listens on ${name}; switch the instrument's raw socket on, or check the port number`,
    ENOTFOUND: `the name ${host} is not known; check it, or give the address in figures`,
    EAI_AGAIN: `the name ${host} could not be looked up; check the network, or give the address in figures`,
    EHOSTUNREACH: `no way to ${host}; check that it is on the same network`,
    ENETUNREACH: `no way to ${host}; check that this computer is on its network`,
    ETIMEDOUT: `${name} does not answer; check that it is switched on and that the address is right`,
  }[cause.code ?? ''];
  return new Error(words ?? `${name} does not connect (${cause.message})`, { cause });
}

function writeNow(socket: Socket, bytes: Uint8Array): Promise<void> {
  return new Promise((resolve, reject) => {
    socket.write(bytes, (problem) => (problem ? reject(problem) : resolve()));
  });
}

function closeSocket(socket: Socket): Promise<void> {
  return new Promise((resolve) => {
    if (socket.closed) return resolve();
    socket.once('close', () => resolve());
    socket.destroy();
  });
}

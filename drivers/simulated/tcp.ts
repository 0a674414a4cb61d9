import { createServer } from 'node:net';
import type { AddressInfo, Server, Socket } from 'node:net';
import { UNREAD_BYTES } from './outlet.js';
import type { Outlet } from './outlet.js';

export interface TcpOutlet extends Outlet {
  /** `127.0.0.1:port`, the same after every replug. */
  readonly address: string;
}

const LOOPBACK = '127.0.0.1';

/** The device as a TCP server on the loopback address, for one program at a time: the newest one has it. */
export async function openTcp(onBytes: (bytes: Uint8Array) => void, port = 0): Promise<TcpOutlet> {
  let client: Socket | null = null;
  let server: Server | null = await listen(port, take);
  const { port: takenPort } = server.address() as AddressInfo;

  function take(socket: Socket): void {
    client?.destroy();
    client = socket;
    socket.setNoDelay(true);
    socket.on('data', (bytes) => {
      if (socket === client) onBytes(bytes);
    });
    socket.on('error', () => undefined); // a program that goes away without a word; 'close' follows
    socket.on('close', () => {
      if (client === socket) client = null;
    });
  }

  return {
    address: `${LOOPBACK}:${takenPort}`,
    send(bytes) {
      if (client && client.writableLength < UNREAD_BYTES) client.write(bytes);
    },
    async unplug() {
      const gone = server;
      server = null;
      client?.destroy();
      if (gone) await new Promise<void>((resolve) => gone.close(() => resolve()));
    },
    async plugIn() {
      server ??= await listen(takenPort, take);
    },
  };
}

function listen(port: number, take: (socket: Socket) => void): Promise<Server> {
  return new Promise((resolve, reject) => {
    const server = createServer(take);
    server.once('error', reject);
    server.listen(port, LOOPBACK, () => resolve(server));
  });
}

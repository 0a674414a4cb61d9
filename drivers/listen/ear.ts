import type { Link } from '../link.js';
import { openSerialPort, type SerialConnection, type SerialLine } from '../links/serial.js';
import { tcpLink } from '../links/tcp.js';
import { usbtmcLink } from '../links/usbtmc.js';
import type { Place } from './place.js';

/** What is kept of what was heard: the newest. Enough for a judgement, whatever a port floods us with. */
export const MOST_HEARD_BYTES = 16 * 1024;

/** One open place, for finding out what is there. */
export interface Ear {
  /** The newest bytes since the last `forget`. */
  heard(): Buffer;
  /** How many bytes came since then, kept or not. */
  count(): number;
  forget(): void;
  /** Whether the device went away. What was heard until then can still be judged. */
  isLost(): boolean;
  /** What is told of every chunk as it comes. One listener. */
  onBytes(listener: (chunk: Uint8Array) => void): void;
  write(bytes: Uint8Array): Promise<void>;
  /** The port, where speed and modem lines mean something. */
  readonly port: SerialConnection | null;
  close(): Promise<void>;
}

/** Rejects in plain words when the place doesn't open. */
export async function openEar(place: Place, baud: number, line: SerialLine = {}): Promise<Ear> {
  const memory = new Memory();
  if ('serial' in place) {
    const port = await openSerialPort(
      place.serial,
      { baud, ...line },
      { onBytes: (chunk) => memory.take(chunk), onLost: () => memory.lose() },
    );
    return memory.ear({ write: (bytes) => port.write(bytes), close: () => port.close(), port });
  }
  const link = 'tcp' in place ? tcpLink(hostAndPort(place.tcp)) : usbtmcLink({ path: place.usbtmc });
  await opened(link, memory);
  return memory.ear({ write: (bytes) => link.write(bytes), close: () => link.stop(), port: null });
}

class Memory {
  #chunks: Uint8Array[] = [];
  #kept = 0;
  #count = 0;
  #isLost = false;
  #listener: (chunk: Uint8Array) => void = () => undefined;

  take(chunk: Uint8Array): void {
    this.#chunks.push(new Uint8Array(chunk));
    this.#kept += chunk.length;
    this.#count += chunk.length;
    while (this.#chunks.length > 1 && this.#kept - (this.#chunks[0]?.length ?? 0) >= MOST_HEARD_BYTES) {
      this.#kept -= this.#chunks.shift()?.length ?? 0;
    }
    this.#listener(chunk);
  }

  lose(): void {
    this.#isLost = true;
  }

  ear(open: Pick<Ear, 'write' | 'close' | 'port'>): Ear {
    return {
      ...open,
      heard: () => Buffer.concat(this.#chunks).subarray(-MOST_HEARD_BYTES),
      count: () => this.#count,
      isLost: () => this.#isLost,
      forget: () => {
        this.#chunks = [];
        this.#kept = 0;
        this.#count = 0;
      },
      onBytes: (listener) => void (this.#listener = listener),
    };
  }
}

/** Resolves when the link is open; what it would otherwise go on trying is given up with its reason. */
function opened(link: Link, memory: Memory): Promise<void> {
  return new Promise((resolve, reject) => {
    link.start({
      onState(state) {
        if (state.kind === 'open') resolve();
        else if (state.kind === 'waiting') void link.stop().then(() => reject(new Error(state.why)));
        else if (state.kind === 'lost') {
          memory.lose();
          void link.stop();
        }
      },
      onBytes: (chunk) => memory.take(chunk),
    });
  });
}

function hostAndPort(address: string): { host: string; port: number } {
  const colon = address.lastIndexOf(':');
  return { host: address.slice(0, colon), port: Number(address.slice(colon + 1)) };
}

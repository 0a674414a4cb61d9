import { openSerialPort } from './links/serial.js';
import { listSerialPorts } from './links/listed-ports.js';
import type { Connection } from './links/reopening.js';
import type { ListedPort } from './links/usb-id.js';
import { listUsbtmc } from './links/usbtmc.js';
import { printable } from './printable.js';

/** One place of this computer where an instrument can be joined. What the system doesn't know is null. */
export interface PortDescription {
  readonly path: string;
  /** `usbtmc` is a USB instrument of the test and measurement class. */
  readonly kind: 'serial' | 'usbtmc';
  /** `vendor:product` in hex. */
  readonly usb: string | null;
  readonly serial: string | null;
  readonly maker: string | null;
  /** What the device calls itself. */
  readonly product: string | null;
}

/** Where the ports are looked up; the system's own lists unless a test says otherwise. */
export interface PortLists {
  readonly serial: () => Promise<readonly ListedPort[]>;
  readonly usbtmc: () => Promise<readonly ListedPort[]>;
}

const LISTS: PortLists = { serial: () => listSerialPorts(), usbtmc: () => listUsbtmc() };

const ANSWER_WITHIN_MS = 500;
const MOST_ANSWER_BYTES = 4096;

/** Rejects in plain words when the system doesn't tell its ports. */
export async function listPorts({ serial, usbtmc }: PortLists = LISTS): Promise<PortDescription[]> {
  const ports = await serial().catch((cause: unknown) => {
    throw new Error('the system does not list its serial ports; on Linux install udev', { cause });
  });
  const instruments = await usbtmc();
  return [
    ...ports.map((port) => description('serial', port)),
    ...instruments.map((port) => description('usbtmc', port)),
  ];
}

function description(kind: PortDescription['kind'], port: ListedPort): PortDescription {
  const { path, vendorId, productId, serialNumber, manufacturer, product } = port;
  return {
    path,
    kind,
    usb: vendorId && productId ? `${vendorId}:${productId}`.toLowerCase() : null,
    serial: serialNumber ? printable(serialNumber) : null,
    maker: manufacturer ? printable(manufacturer) : null,
    product: product ? printable(product) : null,
  };
}

/**
 * Opens the port, asks `*IDN?` and returns what came within half a second, made printable, or null for silence or
 * a port that doesn't open. Opening restarts some boards.
 */
export async function askIdentity(path: string, baud = 9600): Promise<string | null> {
  let heard = Buffer.alloc(0);
  let connection: Connection | null = null;
  try {
    connection = await openSerialPort(
      path,
      { baud },
      {
        onBytes: (chunk) => void (heard = Buffer.concat([heard, chunk]).subarray(0, MOST_ANSWER_BYTES)),
        onLost: () => undefined,
      },
    );
    await withinAnswerTime(connection.write(Buffer.from('*IDN?\n')));
  } catch {
    return null; // not a port that can be asked, which is an answer too
  } finally {
    await connection?.close();
  }
  const text = printable(heard.toString('utf8').replace(/[\r\n]+/g, ' '));
  return text === '' ? null : text;
}

/** Waits out the answer time, and no longer for a device that takes no bytes. */
async function withinAnswerTime(written: Promise<void>): Promise<void> {
  const timeIsUp = new Promise<void>((resolve) => setTimeout(resolve, ANSWER_WITHIN_MS));
  await Promise.race([Promise.all([written, timeIsUp]), timeIsUp]);
}

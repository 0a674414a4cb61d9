import { SerialPort } from 'serialport';
import type { Clock } from '../clock.js';
import type { Link } from '../link.js';
import { systemClock } from '../system-clock.js';
import { hangUpBinding } from './hang-up-binding.js';
import { reopeningLink, type Connection, type ConnectionListener } from './reopening.js';
import { serialTroubleInWords } from './serial-trouble.js';
import { findUsbDevice, usbIdText, type ListedPort, type UsbId } from './usb-id.js';

export interface SerialLinkOptions {
  /** A fixed path. A link under /dev/serial/by-id stays with its device whatever number the system gives it. */
  readonly path?: string;
  /** Looked up anew at every try, so that the device is found again under any path. Used when `path` is absent. */
  readonly usb?: UsbId;
  /** Bits per second. */
  readonly baud: number;
  /** Paces the retries. */
  readonly clock?: Clock;
  /** What ports there are; the system's own list unless a test says otherwise. */
  readonly list?: () => Promise<readonly ListedPort[]>;
}

const BINDING = hangUpBinding(SerialPort.binding);

/**
 * A serial port, or a USB device that looks like one.
 * @throws RangeError when neither `path` nor `usb` is given.
 */
export function serialLink(options: SerialLinkOptions): Link {
  const { path, usb, baud, clock = systemClock(), list = () => SerialPort.list() } = options;
  if (path === undefined && usb === undefined) {
    throw new RangeError('serial link: found neither path nor usb; give one of them');
  }
  const place = path ?? `USB device ${usb === undefined ? '' : usbIdText(usb)}`;
  const findPath = async (): Promise<string> => path ?? findUsbDevice(usb as UsbId, await listInWords(list));
  return reopeningLink(
    {
      name: `${place} at ${baud} baud`,
      connect: async (listener) => openSerialPort(await findPath(), baud, listener),
    },
    clock,
  );
}

/** Opens one port once. Rejects with the reason in plain words. */
export async function openSerialPort(
  path: string,
  baud: number,
  listener: ConnectionListener,
): Promise<Connection> {
  // A new port object every time: an old one would send what was written to it while it was closed.
  const settings = { path, baudRate: baud, autoOpen: false, binding: BINDING };
  const port = new SerialPort(settings);
  port.on('error', (problem) => listener.onLost(goneInWords(path, problem)));
  port.on('data', (chunk: Buffer) => listener.onBytes(chunk)); // without a listener nothing is read, nor an unplug seen
  await new Promise<void>((resolve, reject) => {
    port.open((problem) => (problem === null ? resolve() : reject(serialTroubleInWords(path, problem))));
  });
  port.on('close', (problem: Error | null) => listener.onLost(goneInWords(path, problem)));
  return { path, write: (bytes) => writeNow(port, bytes), close: () => closePort(port) };
}

function goneInWords(path: string, problem: Error | null): string {
  return `${path} went away (${problem?.message ?? 'closed'}); check its cable and power`;
}

function writeNow(port: SerialPort, bytes: Uint8Array): Promise<void> {
  if (!port.isOpen) return Promise.reject(new Error(`${port.path} went away, so nothing was sent`));
  return new Promise((resolve, reject) => {
    port.write(Buffer.from(bytes), (problem) => (problem ? reject(problem) : resolve()));
  });
}

/** A port that is closing or closed already calls back with an error, which says that the aim is reached. */
function closePort(port: SerialPort): Promise<void> {
  return new Promise((resolve) => {
    if (port.closing) port.once('close', () => resolve());
    else if (!port.isOpen) resolve();
    else port.close(() => resolve());
  });
}

async function listInWords(list: () => Promise<readonly ListedPort[]>): Promise<readonly ListedPort[]> {
  try {
    return await list();
  } catch (cause) {
    throw new Error('the system does not list its serial ports; give the device path instead of the USB id', {
      cause,
    });
  }
}

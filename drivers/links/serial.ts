import { SerialPort } from 'serialport';
import type { Clock } from '../clock.js';
import type { Link } from '../link.js';
import { systemClock } from '../system-clock.js';
import { hangUpBinding, type Binding } from './hang-up-binding.js';
import { listSerialPorts } from './listed-ports.js';
import { reopeningLink, type Connection, type ConnectionListener } from './reopening.js';
import { serialTroubleInWords } from './serial-trouble.js';
import { findUsbDevice, usbIdText, type ListedPort, type UsbId } from './usb-id.js';

/** How the bits go over the wire beside their speed, and what the modem lines do while the port is open. */
export interface SerialLine {
  /** `none` unless said. */
  readonly parity?: 'none' | 'even' | 'odd' | 'mark' | 'space';
  /** 8 unless said. */
  readonly dataBits?: 7 | 8;
  /** 1 unless said. */
  readonly stopBits?: 1 | 2;
  /** `none` unless said. */
  readonly flowControl?: 'none' | 'rts-cts' | 'xon-xoff';
  /** On or off right after opening; left as the system has it unless said. Some cables take their power from them. */
  readonly dtr?: boolean;
  readonly rts?: boolean;
}

export interface SerialLinkOptions {
  /** A fixed path. A link under /dev/serial/by-id stays with its device whatever number the system gives it. */
  readonly path?: string;
  /** Looked up anew at every try, so that the device is found again under any path. Used when `path` is absent. */
  readonly usb?: UsbId;
  /** Bits per second. */
  readonly baud: number;
  readonly line?: SerialLine;
  /** Paces the retries. */
  readonly clock?: Clock;
  /** What ports there are; the system's own list unless a test says otherwise. */
  readonly list?: () => Promise<readonly ListedPort[]>;
  /** serialport's own unless a test says otherwise. */
  readonly binding?: SerialBinding;
}

export type SerialBinding = Binding<Parameters<typeof SerialPort.binding.open>[0]>;

const BINDING = hangUpBinding(SerialPort.binding);

/**
 * A serial port, or a USB device that looks like one.
 * @throws RangeError when neither `path` nor `usb` is given.
 */
export function serialLink(options: SerialLinkOptions): Link {
  const { path, usb, baud, line, binding, clock = systemClock(), list = () => listSerialPorts() } = options;
  if (path === undefined && usb === undefined) {
    throw new RangeError('serial link: found neither path nor usb; give one of them');
  }
  const place = path ?? `USB device ${usb === undefined ? '' : usbIdText(usb)}`;
  const findPath = async (): Promise<string> => path ?? findUsbDevice(usb as UsbId, await listInWords(list));
  return reopeningLink(
    {
      name: `${place} at ${baud} baud`,
      connect: async (listener) => openSerialPort(await findPath(), { baud, ...line }, listener, binding),
    },
    clock,
  );
}

export type SerialSettings = SerialLine & { readonly baud: number };

/** An open port, whose settings can be changed without opening it anew, which would restart some boards. */
export interface SerialConnection extends Connection {
  /** Bits per second from now on. Rejects when the port doesn't take them. */
  setBaud(baud: number): Promise<void>;
  /** Rejects, with the port left open, when it hasn't got these lines. */
  setModemLines(lines: { readonly dtr: boolean; readonly rts: boolean }): Promise<void>;
}

/** Opens one port once. Rejects with the reason in plain words. */
export async function openSerialPort(
  path: string,
  settings: SerialSettings,
  listener: ConnectionListener,
  binding: SerialBinding = BINDING,
): Promise<SerialConnection> {
  // A new port object every time: an old one would send what was written to it while it was closed.
  const openSettings = { path, ...portSettings(settings), autoOpen: false, binding };
  const port = new SerialPort(openSettings);
  port.on('error', (problem) => listener.onLost(goneInWords(path, problem)));
  port.on('data', (chunk: Buffer) => listener.onBytes(chunk)); // without a listener nothing is read, nor an unplug seen
  const problem = await new Promise<Error | null>((resolve) => port.open(resolve));
  if (problem !== null) throw await serialTroubleInWords(path, problem);
  port.on('close', (problem: Error | null) => listener.onLost(goneInWords(path, problem)));
  await setModemLines(port, settings);
  return {
    path,
    write: (bytes) => writeNow(port, bytes),
    close: () => closePort(port),
    setBaud: (baud) => done((whenDone) => port.update({ baudRate: baud }, whenDone)),
    setModemLines: (lines) => done((whenDone) => port.set(lines, whenDone)),
  };
}

/** serialport's callbacks as a promise. */
function done(begin: (whenDone: (problem: Error | null | undefined) => void) => void): Promise<void> {
  return new Promise((resolve, reject) => {
    begin((problem) => (problem ? reject(problem) : resolve()));
  });
}

/** serialport's words for the same. */
function portSettings({ baud, parity, dataBits, stopBits, flowControl }: SerialSettings) {
  return {
    baudRate: baud,
    ...(parity !== undefined && { parity }),
    ...(dataBits !== undefined && { dataBits }),
    ...(stopBits !== undefined && { stopBits }),
    rtscts: flowControl === 'rts-cts',
    xon: flowControl === 'xon-xoff',
    xoff: flowControl === 'xon-xoff',
  };
}

/** Rejects, with the port closed, when they are asked for and the port hasn't got them. */
async function setModemLines(port: SerialPort, { dtr, rts }: SerialLine): Promise<void> {
  if (dtr === undefined && rts === undefined) return;
  const lines = { ...(dtr !== undefined && { dtr }), ...(rts !== undefined && { rts }) };
  const problem = await new Promise<Error | null>((resolve) => port.set(lines, resolve));
  if (problem === null) return;
  await closePort(port);
  const why = `${port.path} has no DTR and RTS lines to set (${problem.message})`;
  throw new Error(`${why}; leave dtr and rts out of the bench file`, { cause: problem });
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

import { SerialPort } from 'serialport';
import { listSysfsPorts } from './sysfs-ports.js';
import type { ListedPort } from './usb-id.js';

/** The two ways to learn what ports there are; a test gives its own. */
export interface PortSources {
  /** Reads what Linux tells in its file system. */
  readonly sysfs: () => Promise<readonly ListedPort[]>;
  /** Asks the system. On Linux that starts a program, and ends this one where the system starts none. */
  readonly system: () => Promise<readonly ListedPort[]>;
}

const SOURCES: PortSources = { sysfs: () => listSysfsPorts(), system: () => SerialPort.list() };

/** The serial ports of this computer. Rejects in the system's own words when it doesn't tell. */
export function listSerialPorts(
  { sysfs, system }: PortSources = SOURCES,
  platform: string = process.platform,
): Promise<readonly ListedPort[]> {
  return platform === 'linux' ? sysfs() : system();
}

import { SerialPort } from 'serialport';
import { listSysfsPorts } from './sysfs-ports.js';
import type { ListedPort } from './usb-id.js';

/** The two ways to learn what ports there are; a test gives its own. */
export interface PortSources {
  /** Asks the system; on Linux this needs the program `udevadm`. */
  readonly system: () => Promise<readonly ListedPort[]>;
  /** Reads what Linux tells in its file system. Rejects elsewhere. */
  readonly sysfs: () => Promise<readonly ListedPort[]>;
}

const SOURCES: PortSources = { system: () => SerialPort.list(), sysfs: () => listSysfsPorts() };

/** The serial ports of this computer. Rejects in the system's own words when neither way is there. */
export async function listSerialPorts({ system, sysfs }: PortSources = SOURCES): Promise<
  readonly ListedPort[]
> {
  try {
    return await system();
  } catch (problem) {
    return sysfs().catch(() => {
      throw problem;
    });
  }
}

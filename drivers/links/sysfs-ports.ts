import { readdir, readFile, realpath } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { ListedPort } from './usb-id.js';

const TTYS_OF_THE_SYSTEM = '/sys/class/tty';
/** The names that Linux gives serial ports, and not its consoles and pseudo-terminals (admin-guide/devices.txt of the kernel). */
const SERIAL_NAME = /^(tty(USB|ACM|AMA|S|O|THS|mxc|SAC|MFD|WCH|XRUSB)|rfcomm)\d+$/;
/** Those whose USB device stands above them; above a Bluetooth port stands the computer's own radio. */
const USB_NAME = /^tty(USB|ACM|XRUSB)\d+$/;
/** From a port up to its USB device it is the interface and the device; two more for hubs of odd drivers. */
const MOST_STEPS_UP = 4;
/** `PORT_UNKNOWN` of linux/serial.h: a name kept for a port that this computer hasn't got. */
const NO_PORT = '0';

/**
 * The serial ports that Linux tells in sysfs (Documentation/ABI/testing/sysfs-tty and sysfs-bus-usb of the kernel).
 * Rejects when the folder can't be read.
 */
export async function listSysfsPorts(folder = TTYS_OF_THE_SYSTEM): Promise<readonly ListedPort[]> {
  const names = (await readdir(folder)).filter((name) => SERIAL_NAME.test(name));
  const inOrder = names.sort((a, b) => a.localeCompare(b, 'en', { numeric: true }));
  const ports = await Promise.all(inOrder.map((name) => describePort(folder, name)));
  return ports.filter((port) => port !== null);
}

/** Null for a name without a port behind it. */
async function describePort(folder: string, name: string): Promise<ListedPort | null> {
  const device = await realpath(join(folder, name, 'device')).catch(() => null);
  if (name.startsWith('ttyS')) {
    if (device === null || (await textOf(folder, name, 'type')) === NO_PORT) return null;
  }
  const path = `/dev/${name}`;
  const usb = device !== null && USB_NAME.test(name) ? await usbDeviceAbove(device) : null;
  if (usb === null) return { path };
  return {
    path,
    vendorId: await textOf(usb, 'idVendor'),
    productId: await textOf(usb, 'idProduct'),
    serialNumber: await textOf(usb, 'serial'),
    manufacturer: await textOf(usb, 'manufacturer'),
    product: await textOf(usb, 'product'),
  };
}

async function usbDeviceAbove(device: string): Promise<string | null> {
  let folder = device;
  for (let steps = 0; steps <= MOST_STEPS_UP; steps += 1) {
    if ((await textOf(folder, 'idVendor')) !== undefined) return folder;
    folder = dirname(folder);
  }
  return null;
}

/** The text of an attribute; undefined for one that isn't there or is empty. */
async function textOf(...path: readonly string[]): Promise<string | undefined> {
  const text = await readFile(join(...path), 'utf8').catch(() => '');
  return text.trim() || undefined;
}

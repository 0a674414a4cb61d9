import { mkdir, mkdtemp, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listSerialPorts } from '../../../drivers/links/listed-ports.js';
import { serialLink } from '../../../drivers/links/serial.js';
import { listSysfsPorts } from '../../../drivers/links/sysfs-ports.js';
import { manualClock } from '../../manual-clock.js';
import { listenTo, times } from './heard.js';

/**
 * A tree on the disk as Linux lays it out (from memory): the class folder holds links into `devices`; a USB adapter's
 * port stands in its interface, the interface in the device; a modem-class port's device is the interface itself.
 */
describe.skipIf(process.platform === 'win32')('listSysfsPorts', () => {
  let root: string;
  let classFolder: string;

  beforeEach(async () => {
    root = await mkdtemp(join(tmpdir(), 'railminder-sysfs-'));
    classFolder = join(root, 'class', 'tty');
    await mkdir(classFolder, { recursive: true });
  });

  afterEach(() => rm(root, { recursive: true }));

  async function folderWith(path: string, attributes: Readonly<Record<string, string>> = {}) {
    const folder = join(root, 'devices', path);
    await mkdir(folder, { recursive: true });
    for (const [name, text] of Object.entries(attributes)) await writeFile(join(folder, name), `${text}\n`);
    return folder;
  }

  /** A port whose `device` is that folder; without one when null. */
  async function port(
    name: string,
    device: string | null,
    attributes: Readonly<Record<string, string>> = {},
  ) {
    const own = await folderWith(`${device ?? 'virtual'}/tty/${name}`, attributes);
    if (device !== null) await symlink(join(root, 'devices', device), join(own, 'device'));
    await symlink(own, join(classFolder, name));
  }

  async function adapter(at: string, name: string, serial?: string) {
    const identity = { idVendor: '1a86', idProduct: '7523', product: 'Serial adapter' };
    await folderWith(`pci/usb1/${at}`, { ...identity, ...(serial !== undefined && { serial }) });
    await folderWith(`pci/usb1/${at}/${at}:1.0/${name}`);
    await port(name, `pci/usb1/${at}/${at}:1.0/${name}`);
  }

  async function board(at: string, name: string) {
    const identity = { idVendor: '2341', idProduct: '0043', manufacturer: 'Board Works', serial: '85A1' };
    await folderWith(`pci/usb1/${at}`, identity);
    await folderWith(`pci/usb1/${at}/${at}:1.0`);
    await port(name, `pci/usb1/${at}/${at}:1.0`);
  }

  it('finds who stands behind USB adapters and boards', async () => {
    await folderWith('pci/usb1', { idVendor: '1d6b', idProduct: '0002' });
    await adapter('1-2', 'ttyUSB0');
    await board('1-3', 'ttyACM0');
    expect(await listSysfsPorts(classFolder)).toEqual([
      {
        path: '/dev/ttyACM0',
        vendorId: '2341',
        productId: '0043',
        serialNumber: '85A1',
        manufacturer: 'Board Works',
      },
      { path: '/dev/ttyUSB0', vendorId: '1a86', productId: '7523', product: 'Serial adapter' },
    ]);
  });

  it('keeps to ports that are there: no consoles, no names without a port behind them', async () => {
    await port('tty0', null);
    await port('ptmx', null);
    await port('ttyprintk', null);
    await port('ttyS0', 'pnp/00:01', { type: '4' });
    await port('ttyS1', 'platform/serial8250', { type: '0' });
    await port('ttyS2', null);
    await port('ttyAMA0', 'platform/uart');
    await folderWith('pci/usb1/1-4', { idVendor: '0a12', idProduct: '0001' });
    await port('rfcomm0', 'pci/usb1/1-4/hci0');
    expect(await listSysfsPorts(classFolder)).toEqual([
      { path: '/dev/rfcomm0' },
      { path: '/dev/ttyAMA0' },
      { path: '/dev/ttyS0' },
    ]);
  });

  it('puts ports in the order of their numbers, and one pulled out half-way is listed without an identity', async () => {
    await adapter('1-2', 'ttyUSB10');
    await adapter('1-3', 'ttyUSB2');
    await symlink(join(root, 'devices', 'gone'), join(classFolder, 'ttyUSB3'));
    const paths = (await listSysfsPorts(classFolder)).map(({ path }) => path);
    expect(paths).toEqual(['/dev/ttyUSB2', '/dev/ttyUSB3', '/dev/ttyUSB10']);
  });

  it('serves for finding a USB device, without starting a program', async () => {
    await adapter('1-2', 'ttyUSB0', 'A1');
    await adapter('1-3', 'ttyUSB1', 'B2');
    const system = () => Promise.reject(new Error('asked'));
    const list = () => listSerialPorts({ system, sysfs: () => listSysfsPorts(classFolder) }, 'linux');
    const usb = { vendor: '1a86', product: '7523', serial: 'B2' };
    const link = serialLink({ usb, baud: 9600, list, clock: manualClock() });
    const heard = listenTo(link);
    await heard.until((h) => times(h, 'waiting') === 1);
    await link.stop();
    // The tree is made up, so that what was found isn't in /dev.
    expect(heard.states[0]).toMatchObject({
      why: expect.stringMatching(/^\/dev\/ttyUSB1 (is not there|has no device)/) as string,
    });
  });
});

it.each([
  ['linux', '/dev/ttyUSB0'],
  ['darwin', '/dev/tty.usbserial-A1'],
  ['win32', 'COM3'],
])('listSerialPorts asks where %s tells it', async (platform, path) => {
  const sysfs = () => Promise.resolve([{ path: '/dev/ttyUSB0' }]);
  const system = () => Promise.resolve([{ path: platform === 'win32' ? 'COM3' : '/dev/tty.usbserial-A1' }]);
  expect(await listSerialPorts({ sysfs, system }, platform)).toEqual([{ path }]);
});

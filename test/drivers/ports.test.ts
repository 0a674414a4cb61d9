import { describe, expect, it } from 'vitest';
import { listPorts } from '../../drivers/ports.js';

const none = () => Promise.resolve([]);

describe('listPorts', () => {
  it('describes each port in plain records, serial ports first', async () => {
    const board = {
      path: 'COM3',
      vendorId: '1A86',
      productId: '7523',
      serialNumber: 'A1',
      manufacturer: 'Some\x07one',
      product: 'Probe board',
    };
    const ports = await listPorts({
      serial: () => Promise.resolve([{ path: '/dev/ttyS0' }, board]),
      usbtmc: () => Promise.resolve([{ path: '/dev/usbtmc0', vendorId: '1ab2', productId: '0042' }]),
    });
    const unknown = { usb: null, serial: null, maker: null, product: null };
    expect(ports).toEqual([
      { ...unknown, path: '/dev/ttyS0', kind: 'serial' },
      {
        path: 'COM3',
        kind: 'serial',
        usb: '1a86:7523',
        serial: 'A1',
        maker: 'Some\\x07one',
        product: 'Probe board',
      },
      { ...unknown, path: '/dev/usbtmc0', kind: 'usbtmc', usb: '1ab2:0042' },
    ]);
  });

  it('says so when the system tells no ports', async () => {
    const serial = () => Promise.reject(new Error('spawn ENOENT'));
    await expect(listPorts({ serial, usbtmc: none })).rejects.toThrow(/install udev/);
  });
});

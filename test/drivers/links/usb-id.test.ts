import { describe, expect, it } from 'vitest';
import { findUsbDevice, usbIdText } from '../../../drivers/links/usb-id.js';

const ports = [
  { path: '/dev/ttyS0' },
  { path: '/dev/ttyUSB0', vendorId: '1A86', productId: '7523', serialNumber: 'A1' },
  { path: '/dev/ttyUSB1', vendorId: '1a86', productId: '7523', serialNumber: 'B2' },
  { path: '/dev/ttyACM0', vendorId: '2341', productId: '0043' },
];

describe('findUsbDevice', () => {
  it('finds a device by vendor and product in any case', () => {
    expect(findUsbDevice({ vendor: '2341', product: '0043' }, ports)).toBe('/dev/ttyACM0');
    expect(findUsbDevice({ vendor: '1A86', product: '7523', serial: 'b2' }, ports)).toBe('/dev/ttyUSB1');
  });

  it('says which id is missing', () => {
    expect(() => findUsbDevice({ vendor: '0403', product: '6001' }, ports)).toThrow(
      'no USB device 0403:6001 is plugged in; plug it in, or check the id',
    );
  });

  it('does not guess between two that are alike', () => {
    expect(() => findUsbDevice({ vendor: '1a86', product: '7523' }, ports)).toThrow(
      /^2 devices are 1a86:7523 \(\/dev\/ttyUSB0, \/dev\/ttyUSB1\); add the serial number/,
    );
  });

  // Makers of cheap boards give all of them one serial number or none, and some devices have two ports (common practice).
  it('asks for a path where the serial number tells no two ports apart', () => {
    const unnumbered = ['/dev/ttyUSB0', '/dev/ttyUSB1'].map((path) => ({
      path,
      vendorId: '1a86',
      productId: '7523',
    }));
    const alike = unnumbered.map((port) => ({ ...port, serialNumber: '0001' }));
    const id = { vendor: '1a86', product: '7523' };
    const cure = 'give a path, on Linux one under /dev/serial/by-path, which stays with its socket';
    expect(() => findUsbDevice({ ...id, serial: '0001' }, alike)).toThrow(
      `2 devices are 1a86:7523:0001 (/dev/ttyUSB0, /dev/ttyUSB1); ${cure}`,
    );
    expect(() => findUsbDevice(id, alike)).toThrow(cure);
    expect(() => findUsbDevice(id, unnumbered)).toThrow(cure);
  });

  it('writes an id as the bench file does', () => {
    expect(usbIdText({ vendor: '1a86', product: '7523', serial: 'A1' })).toBe('1a86:7523:A1');
  });
});
